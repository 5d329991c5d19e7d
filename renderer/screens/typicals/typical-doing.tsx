import { useEffect, useRef, useState } from 'react'
import type { TypicalLook } from '../../../core/contract/index.ts'
import { conditionWords, gateWords, type GateLine } from '../../../core/documents/index.ts'
import { lineChanges, lineKey, type LineChange } from '../../../core/parts/index.ts'
import { gateMark } from '../../drawing/index.ts'
import { Button, DrawingView, SheetHeading } from '../../ui/index.ts'
import { BehaviourTable } from '../behaviour-table.tsx'
import { explain, FedByChoice } from '../parts/index.ts'
import { keepTried, setFedBy, setTrying, useTypical } from './typical-state.ts'

const noChanges: ReadonlyMap<string, LineChange> = new Map()

/** What comes out otherwise than before the last change, or than before somebody began to try. */
export function useLineChanges(look: TypicalLook | null): {
  readonly changes: ReadonlyMap<string, LineChange>
  readonly forget: () => void
} {
  const [base, setBase] = useState<readonly GateLine[] | null>(null)
  const last = useRef<TypicalLook | null>(null)
  useEffect(() => {
    const before = last.current
    last.current = look
    if (look === null || before === null || look === before) return
    const same = JSON.stringify(look.behaviour.lines) === JSON.stringify(before.behaviour.lines)
    // Another feed taken for granted is no change of the typical.
    if (look.fedBy !== before.fedBy) setBase(null)
    // What is tried, and what is kept of it, stands against what was before the try.
    else if (before.tried === 0 && (!same || look.tried > 0)) setBase(before.behaviour.lines)
  }, [look])
  const lines = look?.behaviour.lines ?? []
  return {
    changes: base === null ? noChanges : lineChanges(base, lines),
    forget: () => setBase(null),
  }
}

const explainLine = (line: GateLine, change?: LineChange): void =>
  explain({
    title: `${conditionWords[line.condition]}${line.of === null ? '' : `, ${line.of}`}: ${gateWords(line.gate)}`,
    sentences: [...(change?.sentences ?? []), ...line.because],
  })

/** How many changes are said in words beside the marks; the rows below say all. */
const saidInWords = 3

/** What it does in one line of marks that stays in view, what came out otherwise, and the ways to try. */
export function DoingBar({
  look,
  changes,
  onForget,
  locked,
}: {
  readonly look: TypicalLook
  readonly changes: ReadonlyMap<string, LineChange>
  readonly onForget: () => void
  readonly locked: boolean
}) {
  const { trying, fedBy } = useTypical()
  return (
    <div className={trying === null ? 'doing-bar' : 'doing-bar trying'}>
      <DoingStrip look={look} changes={changes} />
      <div className="doing-deeds">
        <div role="status" className="doing-words">
          {trying !== null && (
            <strong>
              Trying: nothing is written until it is kept
              {trying.length === 0
                ? '. '
                : `; ${trying.length} ${trying.length === 1 ? 'change' : 'changes'} tried. `}
            </strong>
          )}
          {look.refused.map((each) => `${each} `)}
          {changesInWords(look.behaviour.lines, changes)}
          {changes.size > 0 && trying === null && (
            <Button kind="quiet" onPress={onForget}>
              Forget the marks
            </Button>
          )}
        </div>
        <FedByChoice value={fedBy} onChange={setFedBy} />
        {!locked && <TryButtons />}
      </div>
    </div>
  )
}

function changesInWords(lines: readonly GateLine[], changes: ReadonlyMap<string, LineChange>): string {
  const said = lines.flatMap((line) => {
    const change = changes.get(lineKey(line))
    const of = line.of === null ? '' : ` ${shortName(line.of)}`
    return change === undefined
      ? []
      : [`${conditionWords[line.condition]}${of}: ${change.sentences.join(' ')}`]
  })
  const more = changes.size - Math.min(said.length, saidInWords)
  return `${said.slice(0, saidInWords).join(' ')}${more > 0 ? ` And ${more} more.` : ''}`
}

/** The marks of every condition in one line that stays in view while something is changed. */
function DoingStrip({
  look,
  changes,
}: {
  readonly look: TypicalLook
  readonly changes: ReadonlyMap<string, LineChange>
}) {
  const { lines, cannotTell } = look.behaviour
  return (
    <div className="doing-strip" role="group" aria-label="What it does, in short">
      {lines.length === 0 && <span className="soft">{cannotTell.join(' ')}</span>}
      {lines.map((line) => {
        const change = changes.get(lineKey(line))
        return (
          <span
            key={lineKey(line)}
            className={change === undefined ? 'doing' : 'doing changed'}
            onMouseEnter={() => explainLine(line, change)}
          >
            <span className="doing-when">
              {conditionWords[line.condition]}
              {line.of !== null && <small> {shortName(line.of)}</small>}
            </span>
            <DrawingView drawing={gateMark(line.gate)} />
          </span>
        )
      })}
    </div>
  )
}

/** The tag at the end of "exit sensor S1". */
const shortName = (name: string): string => name.split(' ').at(-1) ?? name

/** Every condition with its reasons. */
export function TypicalDoing({
  look,
  changes,
}: {
  readonly look: TypicalLook
  readonly changes: ReadonlyMap<string, LineChange>
}) {
  const { lines, arrangement, cannotTell } = look.behaviour
  return (
    <section aria-label="What it does">
      <SheetHeading
        level={2}
        title="What it does"
        facts={
          arrangement === null
            ? 'not known yet'
            : `worked out for a made-up opening that follows it; way out: ${arrangement.name}`
        }
      />
      {cannotTell.map((each) => (
        <p key={each} className="padded soft">
          {each}
        </p>
      ))}
      {lines.length > 0 && (
        <BehaviourTable
          lines={lines}
          changes={changes}
          onPoint={(line) => explainLine(line, changes.get(lineKey(line)))}
        />
      )}
    </section>
  )
}

function TryButtons() {
  const { trying } = useTypical()
  if (trying === null) return <Button onPress={() => setTrying([])}>Try without writing</Button>
  return (
    <>
      <Button onPress={() => setTrying(null)}>
        {trying.length === 0 ? 'Stop trying' : 'Drop what was tried'}
      </Button>
      <Button kind="main" disabled={trying.length === 0} onPress={() => void keepTried()}>
        {trying.length === 0 ? 'Keep' : `Keep ${trying.length} ${trying.length === 1 ? 'change' : 'changes'}`}
      </Button>
    </>
  )
}
