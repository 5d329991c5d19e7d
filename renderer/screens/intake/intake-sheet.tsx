// A take-in before it is accepted: which column is which, what each row was understood as, and what would change.
import { useMemo, useState } from 'react'
import type { IntakeChoices, IntakeDecisions, IntakePreview } from '../../../core/contract/index.ts'
import {
  decisionFor,
  fieldDecisionFor,
  targetFields,
  targetNames,
  unmatchedFields,
  type ColumnUse,
  type ComparedItem,
  type SheetView,
} from '../../../core/exchange/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Checkbox, Choice, EmptySheet, Field, Notice, SheetHeading } from '../../ui/index.ts'
import { goTo } from '../place.ts'
import { setIntake, takeOutcome, tell, useWindow, working } from '../window-state.ts'
import { IntakeTable, type IntakeShow } from './intake-table.tsx'

const nothingDecided: IntakeDecisions = { items: {}, fields: {} }

export function IntakeSheet() {
  const intake = useWindow((state) => state.intake)
  if (intake === null)
    return (
      <div className="page">
        <EmptySheet
          actions={<Button onPress={() => goTo({ sheet: 'schedule' })}>Back to the schedule</Button>}
        >
          No take-in is under way.
        </EmptySheet>
      </div>
    )
  return <Preview key={intake.intakeId} intake={intake} />
}

async function choose(intake: IntakePreview, choices: Partial<IntakeChoices>): Promise<void> {
  const next = await working('Reading again', () =>
    ask('intake.choose', { intakeId: intake.intakeId, choices: { ...intake.choices, ...choices } }),
  )
  if (next !== null) setIntake(next)
}

async function accept(intake: IntakePreview, decisions: IntakeDecisions): Promise<void> {
  const outcome = await working('Writing the openings', () =>
    ask('intake.accept', { intakeId: intake.intakeId, choices: intake.choices, decisions }),
  )
  if (outcome === null) return
  takeOutcome(outcome)
  setIntake(null)
  goTo({ sheet: 'schedule' })
  tell({ weight: 'told', words: `${outcome.name}. One undo takes it back.` })
}

async function drop(intake: IntakePreview): Promise<void> {
  await ask('intake.drop', { intakeId: intake.intakeId })
  setIntake(null)
  goTo({ sheet: 'schedule' })
}

function Preview({ intake }: { readonly intake: IntakePreview }) {
  const [decisions, setDecisions] = useState(nothingDecided)
  const [show, setShow] = useState<IntakeShow>(firstShow(intake))
  const locked = useWindow((state) => state.job?.state.readOnly !== null)
  const totals = useMemo(() => acceptedCounts(intake.comparison.items, decisions), [intake, decisions])
  const nothing = totals.added + totals.changed + totals.removed === 0
  const { understanding } = intake
  const shared = useMemo(() => sharedRemarks(intake.comparison.items), [intake])
  const warnings = [...understanding.warnings, ...shared]
  const refusedCells = understanding.problems.filter((problem) => problem.weight === 'refused').length
  return (
    <div className="page intake-page">
      <SheetHeading
        title="Take in"
        facts={`${intake.fileName}, ${factsOf(intake)}`}
        actions={
          <>
            <Button onPress={() => void drop(intake)}>Leave it all</Button>
            <Button kind="main" disabled={nothing || locked} onPress={() => void accept(intake, decisions)}>
              {acceptWords(totals)}
            </Button>
          </>
        }
      />
      {warnings.length > 0 && (
        <Notice kind="question">
          {warnings.slice(0, 4).join(' ')}
          {warnings.length > 4 ? ` And ${warnings.length - 4} more remarks.` : ''}
        </Notice>
      )}
      {refusedCells > 0 && show !== 'problems' && (
        <Notice kind="question" actions={<Button onPress={() => setShow('problems')}>Show them</Button>}>
          {refusedCells} {refusedCells === 1 ? 'cell' : 'cells'} could not be read; those facts stay not
          known.
        </Notice>
      )}
      <Reading intake={intake} />
      <div className="intake-shows" role="group" aria-label="What is listed below">
        {shows(intake).map((each) => (
          <button
            key={each.key}
            type="button"
            className="show-choice"
            aria-pressed={show === each.key}
            onClick={() => setShow(each.key)}
          >
            {each.label} <small>{each.count}</small>
          </button>
        ))}
      </div>
      <IntakeTable
        intake={intake}
        show={show}
        shared={shared}
        decisions={decisions}
        onDecide={setDecisions}
      />
    </div>
  )
}

/** Remarks that hold for every new opening: said once, not in each row. */
function sharedRemarks(items: readonly ComparedItem[]): readonly string[] {
  const mine = items.filter((item) => item.kind === 'added')
  if (mine.length < 2) return []
  return (mine[0]?.remarks ?? []).filter((remark) => mine.every((item) => item.remarks.includes(remark)))
}

function shows(intake: IntakePreview): { key: IntakeShow; label: string; count: number }[] {
  const { counts } = intake.comparison
  const { problems, setAside } = intake.understanding
  const doubts = intake.comparison.items.filter((item) => item.doubt !== null).length
  return [
    { key: 'added' as const, label: 'New', count: counts.added },
    { key: 'changed' as const, label: 'Changed', count: counts.changed },
    { key: 'gone' as const, label: 'No longer in the file', count: counts.gone },
    { key: 'same' as const, label: 'The same', count: counts.same },
    { key: 'doubts' as const, label: 'Doubtful', count: doubts },
    { key: 'problems' as const, label: 'Questions and unread cells', count: problems.length },
    { key: 'aside' as const, label: 'Rows set aside', count: setAside.length },
  ].filter((each) => each.count > 0 || each.key === 'added')
}

const firstShow = (intake: IntakePreview): IntakeShow =>
  intake.comparison.counts.added > 0 || intake.comparison.counts.changed === 0 ? 'added' : 'changed'

function factsOf({ understanding, form }: IntakePreview): string {
  const count = understanding.openings.length
  const kind = { sheet: 'a schedule', cobie: 'a COBie workbook', model: 'a building model' }[form]
  return `read as ${kind}: ${count} ${count === 1 ? 'opening' : 'openings'} understood`
}

interface Totals {
  readonly added: number
  readonly changed: number
  readonly removed: number
}

/** What accepting would do now. */
function acceptedCounts(items: readonly ComparedItem[], decisions: IntakeDecisions): Totals {
  let [added, changed, removed] = [0, 0, 0]
  for (const item of items) {
    if (decisionFor(item, decisions) === 'leave') continue
    if (item.kind === 'added') added += 1
    if (item.kind === 'gone') removed += 1
    if (
      item.kind === 'changed' &&
      item.changes.some((change) => fieldDecisionFor(item, change.field, decisions) === 'accept')
    )
      changed += 1
  }
  return { added, changed, removed }
}

function acceptWords({ added, changed, removed }: Totals): string {
  const parts = [
    ...(added > 0 ? [`add ${added}`] : []),
    ...(changed > 0 ? [`change ${changed}`] : []),
    ...(removed > 0 ? [`remove ${removed}`] : []),
  ]
  if (parts.length === 0) return 'Nothing to accept'
  const words = parts.join(', ')
  return `Accept: ${words}`
}

/** How the file was read, and what a person can correct about that. */
function Reading({ intake }: { readonly intake: IntakePreview }) {
  if (intake.form === 'model') return <ModelReading intake={intake} />
  if (intake.form === 'cobie') return null
  const chosen = intake.sheets.filter((sheet) => sheet.chosen)
  return (
    <>
      {intake.sheets.length > 1 && (
        <div className="intake-sheets">
          <span>Sheets with openings:</span>
          {intake.sheets.map((sheet) => (
            <Checkbox
              key={sheet.name}
              checked={sheet.chosen}
              onChange={(checked) =>
                void choose(intake, {
                  sheets: intake.sheets
                    .filter((each) => (each.name === sheet.name ? checked : each.chosen))
                    .map((each) => each.name),
                })
              }
            >
              {sheet.name} <span className="soft">{sheet.rows} rows</span>
            </Checkbox>
          ))}
        </div>
      )}
      {chosen.length === 0 && (
        <Notice kind="question">
          No sheet was recognised as a schedule: expected a heading row with a column for the mark (Door,
          Mark, Door no.) and at least one more. Choose a sheet above, or say below which column is which.
        </Notice>
      )}
      {(chosen.length > 0 ? chosen : intake.sheets.slice(0, 1)).map((sheet) => (
        <ColumnMatcher key={sheet.name} sheet={sheet} intake={intake} />
      ))}
      <Defaults intake={intake} />
    </>
  )
}

const useOptions = [
  { key: 'cells', label: 'Keep as read' },
  ...targetFields.map((field) => ({ key: field as string, label: targetNames[field] })),
]

/** The columns of one sheet with what each is taken for. */
function ColumnMatcher({ sheet, intake }: { readonly sheet: SheetView; readonly intake: IntakePreview }) {
  const { columns } = sheet.matching
  const missing = unmatchedFields(sheet.matching).filter((field) => field === 'mark')
  const correct = (column: number, use: ColumnUse): void =>
    void choose(intake, {
      uses: [
        ...intake.choices.uses.filter((each) => each.sheet !== sheet.name || each.column !== column),
        { sheet: sheet.name, column, use },
      ],
      ...(sheet.chosen ? {} : { sheets: [sheet.name] }),
    })
  return (
    <details
      className="column-matcher"
      open={missing.length > 0 || columns.some((each) => each.because === 'likely')}
    >
      <summary>
        Columns{intake.sheets.length > 1 ? ` of ${sheet.name}` : ''}:{' '}
        {columns.filter((each) => each.use !== 'cells').length} of {columns.length} understood
        {missing.length > 0 ? ', none of them as the mark' : ''}
      </summary>
      <div className="matcher-scroll" tabIndex={0} role="group" aria-label={`Columns of ${sheet.name}`}>
        <table className="plain-table matcher">
          <thead>
            <tr>
              {columns.map((column) => (
                <th key={column.column} scope="col">
                  {column.heading === '' ? `Column ${column.column + 1}` : column.heading}
                </th>
              ))}
            </tr>
            <tr>
              {columns.map((column) => (
                <td key={column.column} className={column.because === 'likely' ? 'question' : ''}>
                  <select
                    className="field-input"
                    aria-label={`${column.heading || `Column ${column.column + 1}`} is`}
                    value={column.use}
                    onChange={(event) => correct(column.column, event.currentTarget.value as ColumnUse)}
                  >
                    {useOptions.map((option) => (
                      <option key={option.key} value={option.key}>
                        {option.label}
                      </option>
                    ))}
                  </select>
                </td>
              ))}
            </tr>
          </thead>
          <tbody>
            {sheet.samples.map((cells, index) => (
              <tr key={index} className="soft">
                {columns.map((column) => (
                  <td key={column.column}>{cells[column.column] ?? ''}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  )
}

function Defaults({ intake }: { readonly intake: IntakePreview }) {
  const job = useWindow((state) => state.job)
  const uses = new Set(
    intake.sheets
      .filter((sheet) => sheet.chosen)
      .flatMap((sheet) => sheet.matching.columns.map((each) => each.use)),
  )
  const needsLevel = !uses.has('level') && intake.understanding.openings.some((each) => each.level === null)
  if (job === null) return null
  return (
    <div className="intake-defaults">
      <Choice
        label="Bare numbers are"
        value={intake.choices.units ?? job.frame.job.units}
        options={[
          { key: 'imperial', label: 'Inches, where that fits' },
          { key: 'metric', label: 'Millimetres, where that fits' },
        ]}
        onChange={(units) => void choose(intake, { units: units as 'imperial' | 'metric' })}
      />
      {needsLevel && <LevelDefault intake={intake} />}
    </div>
  )
}

function LevelDefault({ intake }: { readonly intake: IntakePreview }) {
  const [level, setLevel] = useState(intake.choices.level ?? '')
  return (
    <div
      onBlur={() => {
        const value = level.trim() === '' ? null : level.trim()
        if (value !== intake.choices.level) void choose(intake, { level: value })
      }}
    >
      <Field
        label="Level of rows that name none"
        value={level}
        onChange={setLevel}
        help="Level 1, Basement"
      />
    </div>
  )
}

function ModelReading({ intake }: { readonly intake: IntakePreview }) {
  const { marks } = intake
  if (marks === null) return null
  const keyOf = (source: unknown): string => JSON.stringify(source)
  const chosen = intake.choices.markFrom ?? marks.proposed
  return (
    <div className="intake-defaults">
      <Choice
        label="The mark stands in"
        value={keyOf(chosen)}
        options={marks.choices.map((each) => ({
          key: keyOf(each.source),
          label: `${each.label}: ${each.samples.slice(0, 3).join(', ')} (${each.filled} filled, ${each.different} different)`,
        }))}
        onChange={(key) =>
          void choose(intake, { markFrom: JSON.parse(key) as NonNullable<IntakeChoices['markFrom']> })
        }
        help="Models keep the door number in different places. Choose the one people say on the telephone."
      />
    </div>
  )
}
