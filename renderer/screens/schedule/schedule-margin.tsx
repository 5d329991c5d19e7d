import { Fragment } from 'react'
import { gateWords, type GateColumn } from '../../../core/documents/index.ts'
import { explainCell, hasQuestion, type ColumnKey, type ScheduleRow } from '../../../core/schedule/index.ts'
import { Citation, MarginText, MarginTitle } from '../../ui/index.ts'
import { CautionsOfRow } from '../cautions/index.ts'
import { useOpeningPage } from '../opening-page.ts'
import { feedColumn, FeedWords, voltsColumn } from '../power/index.ts'
import { selectedOpenings } from '../selected.ts'
import { useWindow, type OpenJob } from '../window-state.ts'
import { cautionsColumn, gateOfColumn } from './table-columns.tsx'

/** Explains what is under the cursor; for several rows, what they have in common. */
export function ScheduleMargin() {
  const job = useWindow((state) => state.job)
  const selection = useWindow((state) => state.selection)
  useWindow((state) => state.groups)
  useWindow((state) => state.collapsed)
  if (job === null) return null
  if (selection === null || selection.form === 'group' || selection.form === 'heading')
    return <JobWords job={job} />
  const rows = selectedOpenings().flatMap((id) => job.rows.get(id) ?? [])
  if (rows.length > 1) return <SeveralWords rows={rows} />
  const row = job.rows.get(selection.anchor.rowKey)
  const gate = gateOfColumn(selection.anchor.columnKey)
  return row === undefined ? (
    <JobWords job={job} />
  ) : gate !== undefined ? (
    <GateWords row={row} column={gate} />
  ) : selection.anchor.columnKey === cautionsColumn ? (
    <CautionsOfRow key={row.id} row={row} />
  ) : [feedColumn, voltsColumn].includes(selection.anchor.columnKey) ? (
    <FeedWords key={row.id} openingId={row.id} mark={row.mark} />
  ) : (
    <CellWords row={row} column={selection.anchor.columnKey as ColumnKey} job={job} />
  )
}

function CellWords({ row, column, job }: { row: ScheduleRow; column: ColumnKey; job: OpenJob }) {
  const words = explainCell(row, column, { units: job.frame.job.units, frame: job.frame })
  const count = words.questions.length
  return (
    <>
      <MarginTitle>{words.title}</MarginTitle>
      {words.paragraphs.map((each) => (
        <MarginText key={each}>{each}</MarginText>
      ))}
      {words.citations.map((each) => (
        <Citation key={each}>{each}</Citation>
      ))}
      {count > 0 && (
        <>
          <MarginTitle>{count === 1 ? 'One fact is missing' : `${count} facts are missing`}</MarginTitle>
          {words.questions.map((question) => (
            <MarginText key={question.column}>
              <i>{question.words}</i> Ask {question.whoCanSay}.
            </MarginText>
          ))}
          <Citation>Until it is answered this opening counts as open, never as settled.</Citation>
        </>
      )}
    </>
  )
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

/** Why a doorway does what its mark says, in one condition. */
function GateWords({ row, column }: { readonly row: ScheduleRow; readonly column: GateColumn }) {
  const page = useOpeningPage(row.id)
  const here = page?.row.id === row.id ? page.behaviour : undefined
  const lines = here?.lines.filter((line) => line.condition === column) ?? []
  return (
    <>
      <MarginTitle>
        {row.mark} {row.where}, {column}
      </MarginTitle>
      {here?.cannotTell.map((each) => (
        <MarginText key={each}>{each}</MarginText>
      ))}
      {here !== undefined && here.cannotTell.length === 0 && lines.length === 0 && (
        <MarginText>Nothing here can be asked.</MarginText>
      )}
      {lines.map((line) => (
        <Fragment key={line.of ?? ''}>
          <MarginText>
            {capital(
              `${line.of === null ? '' : `${line.of}: `}${gateWords(line.gate)}, ${line.latched === 'not known' ? 'latch not known' : line.latched}.`,
            )}
          </MarginText>
          {line.because.map((each) => (
            <MarginText key={each}>{each}</MarginText>
          ))}
        </Fragment>
      ))}
      <Citation>
        Worked out from the parts, their contacts and links, as designed. Local codes and the authority having
        jurisdiction decide what a doorway must do.
      </Citation>
    </>
  )
}

function SeveralWords({ rows }: { readonly rows: readonly ScheduleRow[] }) {
  const questions = rows.filter(hasQuestion).length
  const typicals = new Set(rows.map((row) => row.typicalName ?? 'no typical'))
  return (
    <>
      <MarginTitle>{rows.length} openings</MarginTitle>
      <MarginText>
        From {rows[0]?.mark} to {rows.at(-1)?.mark}.
      </MarginText>
      <MarginText>
        {typicals.size === 1
          ? `All follow ${[...typicals][0]}.`
          : `They follow ${typicals.size} typicals: ${[...typicals].slice(0, 6).join(', ')}${typicals.size > 6 ? ' and others' : ''}.`}
      </MarginText>
      <MarginText>
        {questions === 0
          ? 'None has an open question.'
          : `${questions} ${questions === 1 ? 'has' : 'have'} open questions.`}
      </MarginText>
    </>
  )
}

function JobWords({ job }: { readonly job: OpenJob }) {
  const rows = [...job.rows.values()]
  const questions = rows.filter(hasQuestion).length
  return (
    <>
      <MarginTitle>{job.frame.job.name}</MarginTitle>
      <MarginText>
        {rows.length === 0
          ? 'No openings yet.'
          : `${rows.length} openings on ${job.frame.levels.length} ${job.frame.levels.length === 1 ? 'level' : 'levels'}.`}
      </MarginText>
      {questions > 0 && (
        <MarginText>
          {questions} {questions === 1 ? 'opening lacks' : 'openings lack'} a size, a hand, a label or a
          typical. Those cells carry a brass mark.
        </MarginText>
      )}
      <MarginText>
        Put the cursor on a cell, and this column says what it means and where it comes from.
      </MarginText>
      <Citation>
        Local codes and the authority having jurisdiction decide. This schedule supports that review; it does
        not replace licensed practice.
      </Citation>
    </>
  )
}
