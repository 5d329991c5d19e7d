import { counted } from '../../../core/job/index.ts'
import { useState } from 'react'
import type { PartInShort, PartsList, TypicalInShort } from '../../../core/contract/index.ts'
import { conditionWords, gateColumns } from '../../../core/documents/index.ts'
import { gateMark } from '../../drawing/index.ts'
import {
  Button,
  Citation,
  DrawingView,
  EmptySheet,
  MarginText,
  MarginTitle,
  SheetHeading,
} from '../../ui/index.ts'
import { openPartsDialog } from '../parts-dialog-state.ts'
import { hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { useWindow } from '../window-state.ts'
import { ComparisonView } from './comparison-view.tsx'
import { ExplainedText } from './part-margin.tsx'
import { explains, useExplaining } from './part-state.ts'
import { PartsDialogs } from './parts-dialogs.tsx'
import { CompareTypicals } from './typicals-compared.tsx'
import './parts.css'

const most = { parts: 4, typicals: 3 } as const
type Shown = keyof typeof most

/** The parts and the typicals of the job: found by typing, ticked to be compared, made, copied, brought in. */
export function PartsSheet() {
  const job = useWindow((state) => state.job)
  const list = useAsked('parts.read', {})
  const [shown, setShown] = useState<Shown>('parts')
  const [words, setWords] = useState('')
  const [ticked, setTicked] = useState<readonly string[]>([])
  const [comparing, setComparing] = useState(false)
  useExplaining()
  if (job === null) return null
  const locked = job.state.readOnly !== null
  const back = (): void => setComparing(false)
  if (comparing && ticked.length > 1)
    return shown === 'parts' ? (
      <CompareParts partIds={ticked} onBack={back} />
    ) : (
      <CompareTypicals typicalIds={ticked} onBack={back} />
    )
  const show = (next: Shown): void => {
    setShown(next)
    setTicked([])
  }
  const tick = (id: string): void =>
    setTicked(ticked.includes(id) ? ticked.filter((each) => each !== id) : [...ticked, id])
  return (
    <div className="page parts-page">
      <SheetHeading
        title="Parts and typicals"
        facts={list === null ? undefined : factsOf(list)}
        actions={
          <>
            <Button
              disabled={ticked.length < 2 || ticked.length > most[shown]}
              onPress={() => setComparing(true)}
            >
              {ticked.length < 2 ? 'Compare' : `Compare ${ticked.length}`}
            </Button>
            <Button disabled={locked} onPress={() => openPartsDialog({ form: 'bring in' })}>
              Bring in
            </Button>
            {shown === 'parts' ? (
              <Button
                kind="main"
                disabled={locked}
                onPress={() =>
                  openPartsDialog({
                    form: 'new part',
                    likePartId: ticked.length === 1 ? (ticked[0] ?? null) : null,
                  })
                }
              >
                {ticked.length === 1 ? 'New part like this' : 'New part'}
              </Button>
            ) : (
              <Button
                kind="main"
                disabled={locked}
                onPress={() =>
                  openPartsDialog({
                    form: 'new typical',
                    likeTypicalId: ticked.length === 1 ? (ticked[0] ?? null) : null,
                  })
                }
              >
                {ticked.length === 1 ? 'New typical like this' : 'New typical'}
              </Button>
            )}
          </>
        }
      />
      <div className="parts-bar">
        {(['parts', 'typicals'] as const).map((each) => (
          <button
            key={each}
            type="button"
            className="show-choice"
            aria-pressed={shown === each}
            onClick={() => show(each)}
          >
            {each === 'parts' ? 'Parts' : 'Typicals'} <small>{list?.[each].length ?? ''}</small>
          </button>
        ))}
        <label className="parts-find">
          <span className="for-ears">Find by typing</span>
          <input
            className="field-input"
            type="search"
            placeholder="Find by typing: strike, fail safe, asks …"
            value={words}
            onChange={(event) => setWords(event.currentTarget.value)}
          />
        </label>
        <span className="soft">
          {ticked.length === 0
            ? `Tick 2 to ${most[shown]} to compare, or one to make another like it.`
            : ticked.length > most[shown]
              ? `At most ${most[shown]} can be compared at once.`
              : `${ticked.length} ticked.`}
        </span>
      </div>
      {list !== null &&
        (shown === 'parts' ? (
          <PartsTable parts={list.parts.filter(found(words))} ticked={ticked} onTick={tick} />
        ) : (
          <TypicalsTable typicals={list.typicals.filter(found(words))} ticked={ticked} onTick={tick} />
        ))}
      <PartsDialogs />
    </div>
  )
}

const factsOf = ({ parts }: PartsList): string => {
  const unused = parts.filter((part) => isUnused(part)).length
  const undeclared = parts.filter(({ does }) => does.startsWith('Not declared')).length
  return [
    `${parts.length} parts`,
    ...(unused > 0 ? [`${unused} not used`] : []),
    ...(undeclared > 0 ? [`${undeclared} not declared`] : []),
  ].join(', ')
}

/** Every word typed stands somewhere in it. */
const found = (words: string) => {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean)
  return (each: PartInShort | TypicalInShort): boolean => {
    const text = Object.values(each)
      .filter((value) => typeof value === 'string')
      .join(' ')
      .toLowerCase()
    return wanted.every((word) => text.includes(word))
  }
}

interface Ticking {
  readonly ticked: readonly string[]
  readonly onTick: (id: string) => void
}

function Tick({ id, name, ticked, onTick }: Ticking & { readonly id: string; readonly name: string }) {
  return (
    <input
      type="checkbox"
      aria-label={`Tick ${name}`}
      checked={ticked.includes(id)}
      onChange={() => onTick(id)}
    />
  )
}

function PartsTable({ parts, ...ticking }: Ticking & { readonly parts: readonly PartInShort[] }) {
  if (parts.length === 0)
    return <EmptySheet>No part answers to these words. Make one, or bring some in.</EmptySheet>
  return (
    <table className="plain-table">
      <thead>
        <tr>
          <th scope="col">
            <span className="for-ears">Ticked</span>
          </th>
          <th scope="col">Kind</th>
          <th scope="col">Part</th>
          <th scope="col">What it does</th>
          <th scope="col" className="roomy">
            Works at
          </th>
          <th scope="col" className="end roomy">
            Holding
          </th>
          <th scope="col" className="end">
            Typicals
          </th>
          <th scope="col" className="end">
            Openings
          </th>
          <th scope="col" className="end roomy">
            Spares
          </th>
        </tr>
      </thead>
      <tbody>
        {parts.map((part, index) => {
          const isFirst = part.kind !== parts[index - 1]?.kind
          return (
            <tr
              key={part.id}
              className={isFirst ? 'first-of-kind' : ''}
              {...explains(
                part.name,
                part.does,
                usedWords(part),
                ...(part.model === null ? [] : [`Model: ${part.model}.`]),
              )}
            >
              <td>
                <Tick id={part.id} name={part.name} {...ticking} />
              </td>
              <td className="kind">{isFirst ? part.kind : <span className="for-ears">{part.kind}</span>}</td>
              <td className="part">
                <a className="link" href={hrefOf({ sheet: 'part', partId: part.id })}>
                  {part.name}
                </a>
              </td>
              <td className="does">{part.does}</td>
              <td className="when roomy">{part.volts}</td>
              <td className="end when roomy">{part.holding}</td>
              <td className={part.typicals === 0 ? 'end soft' : 'end'}>{part.typicals}</td>
              <td className={part.openings === 0 ? 'end soft' : 'end'}>{part.elsewhere ?? part.openings}</td>
              <td className={part.spares === 0 ? 'end roomy soft' : 'end roomy'}>{part.spares}</td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

const isUnused = ({ typicals, openings, elsewhere }: PartInShort): boolean =>
  typicals + openings === 0 && elsewhere === null

function usedWords(part: PartInShort): string {
  const { typicals, openings, spares, elsewhere } = part
  const kept = spares > 0 ? `, ${counted(spares, 'spare')}` : ''
  if (isUnused(part)) return `Nothing uses it${kept}.`
  const through =
    typicals + openings === 0
      ? []
      : [`by ${counted(typicals, 'typical')}, on ${counted(openings, 'opening')}`]
  return `Used ${[...through, ...(elsewhere === null ? [] : [`by ${elsewhere}`])].join(', and ')}${kept}.`
}

function TypicalsTable({ typicals, ...ticking }: Ticking & { readonly typicals: readonly TypicalInShort[] }) {
  if (typicals.length === 0)
    return <EmptySheet>No typical answers to these words. Make one, or bring some in.</EmptySheet>
  return (
    <table className="plain-table">
      <thead>
        <tr>
          <th scope="col">
            <span className="for-ears">Ticked</span>
          </th>
          <th scope="col">Typical</th>
          <th scope="col">Made of</th>
          {gateColumns.map((column) => (
            <th key={column} scope="col">
              {conditionWords[column]}
            </th>
          ))}
          <th scope="col" className="end">
            Openings
          </th>
        </tr>
      </thead>
      <tbody>
        {typicals.map((typical) => (
          <tr key={typical.id} {...explains(typical.name, `Made of ${typical.parts || 'nothing yet'}.`)}>
            <td>
              <Tick id={typical.id} name={typical.name} {...ticking} />
            </td>
            <td className="part">
              <a className="link" href={hrefOf({ sheet: 'typical', typicalId: typical.id })}>
                {typical.name}
              </a>
            </td>
            <td className="wrap does">{typical.parts === '' ? 'no fittings yet' : typical.parts}</td>
            {gateColumns.map((column) => {
              const gate = typical.gates?.[column] ?? null
              return <td key={column}>{gate === null ? null : <DrawingView drawing={gateMark(gate)} />}</td>
            })}
            <td className={typical.openings === 0 ? 'end soft' : 'end'}>{typical.openings}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function CompareParts({
  partIds,
  onBack,
}: {
  readonly partIds: readonly string[]
  readonly onBack: () => void
}) {
  const answer = useAsked('parts.compare', { partIds: [...partIds] })
  if (answer === null) return null
  return (
    <ComparisonView
      title={`${answer.names.length} parts side by side`}
      names={answer.names.map((name, index) => ({
        key: partIds[index] ?? name,
        label: (
          <a className="link" href={hrefOf({ sheet: 'part', partId: partIds[index] ?? '' })}>
            {name}
          </a>
        ),
      }))}
      sections={answer.sections}
      onBack={onBack}
    />
  )
}

export function PartsMargin() {
  return (
    <>
      <ExplainedText />
      <MarginTitle>A part says what it does</MarginTitle>
      <MarginText>
        What a doorway does is worked out from what its parts declare: what holds and when, what a hand can
        work, how contacts stand. Change it on the part and every opening that has it is worked out anew.
      </MarginText>
      <MarginText>
        A typical is an arrangement of parts with their links and settings. By itself it hangs on no supply,
        so what it does without the mains is often a question here and answered on the opening.
      </MarginText>
      <Citation>
        The maker’s own instructions and listing decide what a part is; what stands here was typed in.
      </Citation>
    </>
  )
}
