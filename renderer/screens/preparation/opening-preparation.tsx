import { useState } from 'react'
import type { OpeningPreparation as Answered, PreparationSheetName } from '../../../core/contract/index.ts'
import { counted, readLength, writeLength } from '../../../core/job/index.ts'
import {
  soffitCommand,
  tapeText,
  type Preparation,
  type PreparationCheck,
  type PreparedSurface,
} from '../../../core/preparation/index.ts'
import type { ScheduleRow } from '../../../core/schedule/index.ts'
import { ask } from '../../bridge.ts'
import { preparationDrawing } from '../../drawing/index.ts'
import { Button, Choice, DrawingView, SheetHeading } from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { makeChange, tell, working, type OpenJob } from '../window-state.ts'
import { Placements } from './placements.tsx'
import { pointAtHole } from './preparation-state.ts'
import './preparation.css'

/** Where each fitting stands, and what is drilled for it: state, drawings, holes, order of work. */
export function OpeningPreparation({ row, job }: { readonly row: ScheduleRow; readonly job: OpenJob }) {
  const asked = useAsked('preparation.opening', { openingId: row.id })
  const [chosen, setChosen] = useState<string | null>(null)
  if (asked === null) return null
  const locked = job.state.readOnly !== null
  const { preparations, withoutPattern } = asked.result
  const may = preparations.filter(({ mayDrill }) => mayDrill).length
  const open = preparations.find(({ key }) => key === chosen) ?? preparations[0]
  return (
    <section aria-label="Preparation" className="preparation">
      <SheetHeading
        level={2}
        title="Preparation"
        facts={
          preparations.length === 0
            ? 'nothing here has a pattern to drill by'
            : `${may} of ${counted(preparations.length, 'fitting')} may be drilled`
        }
        actions={<Printing row={row} />}
      />
      <Placements
        placements={asked.placements}
        keepsPattern={new Set(preparations.map(({ key }) => key))}
        units={job.frame.job.units}
        locked={locked}
      />
      <Soffit asked={asked} row={row} job={job} locked={locked} />
      {preparations.length > 0 && (
        <div className="preparation-tabs" role="group" aria-label="Fittings that are drilled for">
          {preparations.map((each) => (
            <button
              key={each.key}
              type="button"
              aria-pressed={each === open}
              className={each.mayDrill ? 'may' : 'may-not'}
              onClick={() => setChosen(each.key)}
            >
              <b>{each.tag}</b> {each.mayDrill ? 'may be drilled' : 'not yet'}
            </button>
          ))}
        </div>
      )}
      {open !== undefined && <OneFitting openingId={row.id} preparation={open} />}
      {withoutPattern.length > 0 && (
        <p className="padded soft">No pattern is kept for {withoutPattern.join(', ')}.</p>
      )}
    </section>
  )
}

type Wanted = 'this opening' | 'level' | 'job'

function Printing({ row }: { readonly row: ScheduleRow }) {
  const [wanted, setWanted] = useState<Wanted>('this opening')
  const print = async (sheet: PreparationSheetName): Promise<void> => {
    const made = await working('Setting the sheets', () =>
      ask('print.preparation', {
        sheet,
        of:
          wanted === 'this opening'
            ? { openingIds: [row.id] }
            : { levelId: wanted === 'level' ? row.levelId : null },
        only: wanted === 'this opening' ? 'all' : 'what may be drilled',
      }),
    )
    if (made !== null) keep(made)
  }
  return (
    <>
      <Choice
        label="Print for"
        options={[
          { key: 'this opening', label: `opening ${row.mark}` },
          { key: 'level', label: 'its level, what may be drilled' },
          { key: 'job', label: 'the job, what may be drilled' },
        ]}
        value={wanted}
        onChange={(key) => setWanted(key as Wanted)}
      />
      <Button onPress={() => void print('preparation')}>Preparation sheet</Button>
      <Button onPress={() => void print('template')}>Full-size template</Button>
      <Button onPress={() => void print('fitting')}>Fitting sheet</Button>
    </>
  )
}

/** The one measure of the frame that preparation asks for. */
function Soffit({
  asked,
  row,
  job,
  locked,
}: {
  readonly asked: Answered
  readonly row: ScheduleRow
  readonly job: OpenJob
  readonly locked: boolean
}) {
  const { units } = job.frame.job
  const known = asked.frame?.headSoffitMicrometres ?? null
  const set = async (text: string | null): Promise<void> => {
    const read = text === null ? null : readLength(text, { units })
    if (read !== null && !read.known)
      return tell({
        weight: 'stop',
        words: `Flat underside of the frame head of ${row.mark}: “${text ?? ''}” is no length; expected one such as ${units === 'metric' ? '57' : '2 1/4"'}.`,
      })
    const command = soffitCommand(
      { id: row.id, mark: row.mark } as Parameters<typeof soffitCommand>[0],
      asked.frame,
      read === null ? null : read.value,
    )
    await makeChange(command as Parameters<typeof makeChange>[0])
  }
  return (
    <p className={known === null ? 'soffit question' : 'soffit'}>
      <span>Flat underside of the frame head, from the stop outwards</span>
      <TextCell
        text={known === null ? null : writeLength(known, units, { style: 'inches' })}
        label="Flat underside of the frame head"
        hint="not measured"
        locked={locked}
        onSet={set}
      />
    </p>
  )
}

function OneFitting({
  openingId,
  preparation,
}: {
  readonly openingId: string
  readonly preparation: Preparation
}) {
  const { tag, partName, mayDrill, checks, surfaces, steps, side, swing, leaf } = preparation
  const refused = checks.filter(({ verdict }) => verdict === 'caution')
  const unknown = checks.filter(({ verdict }) => verdict === 'not known')
  const met = checks.filter(({ verdict }) => verdict === 'met')
  const facts = [
    leaf === null || leaf === 'only' ? null : `${leaf} leaf`,
    side === null ? null : `${side} side`,
    swing,
  ].filter((each) => each !== null)
  return (
    <div className="prepared-fitting">
      <h3>
        {tag} <span>{partName}</span> <span className="soft">{facts.join(', ')}</span>
      </h3>
      <p className={mayDrill ? 'standing' : 'standing may-not'}>
        {mayDrill
          ? `It may be drilled: all checks of its ${counted(preparation.holes.length, 'hole')} are met. Measure before you drill.`
          : 'Do not drill yet.'}
      </p>
      <Checks checks={refused} title="Refused" />
      <Checks checks={unknown} title="Not known" />
      {surfaces.map((surface) => (
        <Face key={surface.name} openingId={openingId} preparation={preparation} surface={surface} />
      ))}
      {steps.length > 0 && (
        <details>
          <summary>Order of work, {counted(steps.length, 'step')}</summary>
          <ol className="work-steps">
            {steps.map(({ words, cautions }) => (
              <li key={words}>
                {words}
                {cautions.map((each) => (
                  <span key={each} className="work-caution">
                    {each}
                  </span>
                ))}
              </li>
            ))}
          </ol>
        </details>
      )}
      {met.length > 0 && (
        <details>
          <summary>{counted(met.length, 'check')} met</summary>
          <Checks checks={met} title="Met" />
        </details>
      )}
    </div>
  )
}

function Checks({ checks, title }: { readonly checks: readonly PreparationCheck[]; readonly title: string }) {
  if (checks.length === 0) return null
  return (
    <ul
      className={`preparation-checks ${title === 'Refused' ? 'refused' : title === 'Not known' ? 'asked' : ''}`}
      aria-label={title}
    >
      {checks.map(({ key, sentence, questions, source }) => (
        <li key={key}>
          {sentence}
          {questions.map(({ words, whoCanSay }) => (
            <span key={words}>
              {' '}
              <i>{words}</i> Ask {whoCanSay}.
            </span>
          ))}
          {source !== null && (
            <span className="soft">
              {' '}
              {source.words} ({source.standing}).
            </span>
          )}
        </li>
      ))}
    </ul>
  )
}

const drawingRoom = { width: 640, height: 330, textSize: 12 }

/** One flat face to scale, and its holes by the tape. */
function Face({
  openingId,
  preparation,
  surface,
}: {
  readonly openingId: string
  readonly preparation: Preparation
  readonly surface: PreparedSurface
}) {
  const made = preparationDrawing(surface, drawingRoom)
  const measures = measuresOf(surface)
  return (
    <div className="prepared-face">
      <h4>{surface.title}</h4>
      {made === null ? (
        <p className="soft">Nothing can be drawn until the size of the door is known.</p>
      ) : (
        <div className="prepared-drawing">
          <DrawingView drawing={made.drawing} />
        </div>
      )}
      <table className="plain-table hole-table">
        <thead>
          <tr>
            <th scope="col">No.</th>
            <th scope="col">Hole</th>
            {measures.map(({ name, from }) => (
              <th key={name} scope="col">
                {name}
                {from !== null && <span className="measured-from">from {from}</span>}
              </th>
            ))}
            {['Size', 'Depth', 'Drill with', 'Fastener'].map((each) => (
              <th key={each} scope="col">
                {each}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {surface.holes.map((hole) => (
            <tr
              key={hole.number}
              tabIndex={0}
              onMouseEnter={() => pointAtHole({ openingId, preparation, surface, hole })}
              onFocus={() => pointAtHole({ openingId, preparation, surface, hole })}
            >
              <td className="mark">{hole.number}</td>
              <td>
                {hole.name}
                {hole.face !== null && <span className="soft"> {hole.face}</span>}
              </td>
              {measures.map(({ name, field, from }) => (
                <td key={name} className={field === 'acrossAgain' ? 'soft' : ''}>
                  {hole[field] === null && field === 'acrossAgain' ? '' : tapeWords(hole[field], from)}
                </td>
              ))}
              <td>{hole.sizeText}</td>
              <td>{hole.depthText}</td>
              <td>{hole.drilledWith}</td>
              <td>{hole.fastener}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {surface.bodies.length > 0 && (
        <p className="soft body-words">
          {surface.bodies
            .map(
              ({ name, left, right }) => `The ${name} takes ${tapeText(right - left, surface.units)} across.`,
            )
            .join(' ')}
        </p>
      )}
    </div>
  )
}

type Tape = PreparedSurface['holes'][number]['across']
type MeasureField = 'across' | 'along' | 'acrossAgain'

/** The three measures of a face, each with the line that all its holes are measured from; null where they differ. */
function measuresOf({ holes }: PreparedSurface) {
  const measure = (name: string, field: MeasureField) => {
    const [from, another] = new Set(holes.flatMap((hole) => hole[field]?.from ?? []))
    return { name, field, from: another === undefined ? (from ?? null) : null }
  }
  const all = [measure('Across', 'across'), measure('Along', 'along'), measure('To check', 'acrossAgain')]
  return all.filter(({ field }) => field !== 'acrossAgain' || holes.some((hole) => hole[field] !== null))
}

const tapeWords = (tape: Tape, from: string | null) =>
  tape === null ? (
    <span className="asked">not known</span>
  ) : (
    <>
      {tape.text}
      {from === null && <span className="soft"> from {tape.from}</span>}
    </>
  )
