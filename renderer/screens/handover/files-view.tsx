import { useState } from 'react'
import type { ProblemGroup } from '../../../core/contract/index.ts'
import { labelForms, labelFormWords, labelStocks, type LabelForm } from '../../../core/documents/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Choice, NumberField, SheetHeading } from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { working, type OpenJob } from '../window-state.ts'

const usualStock: Readonly<Record<LabelForm, string>> = {
  settings: 'letter-10',
  devices: 'letter-30',
  cables: 'letter-80',
}
const allLevels = 'all levels'

export function FilesView({ job }: { readonly job: OpenJob }) {
  return (
    <>
      <Labels job={job} />
      <Workbooks />
      <SheetHeading
        level={2}
        title="Maintenance calendar"
        facts="fire doors, batteries, tasks and ends of warranties"
        actions={<Button onPress={() => void calendar()}>Save as .ics</Button>}
      />
    </>
  )
}

async function calendar(): Promise<void> {
  const made = await working('Writing the calendar', () => ask('handover.calendar', {}))
  if (made !== null) keep(made)
}

function Labels({ job }: { readonly job: OpenJob }) {
  const [form, setForm] = useState<LabelForm>('settings')
  const [stock, setStock] = useState<string | null>(null)
  const [startAt, setStartAt] = useState<number | null>(1)
  const [level, setLevel] = useState(allLevels)
  const onStock = stock ?? usualStock[form]
  const print = async (): Promise<void> => {
    const made = await working('Setting the labels', () =>
      ask('print.labels', {
        form,
        stock: onStock,
        startAt: startAt ?? 1,
        of: { levelId: level === allLevels ? null : level },
      }),
    )
    if (made !== null) keep(made)
  }
  return (
    <section aria-label="Labels">
      <SheetHeading
        level={2}
        title="Labels"
        actions={<Button onPress={() => void print()}>Print the labels</Button>}
      />
      <div className="form-columns">
        <Choice
          label="Labels"
          options={labelForms.map((key) => ({ key, label: labelFormWords[key] }))}
          value={form}
          onChange={(key) => {
            setForm(key as LabelForm)
            setStock(null)
          }}
        />
        <Choice
          label="On"
          options={labelStocks.map(({ key, name }) => ({ key, label: name }))}
          value={onStock}
          onChange={setStock}
        />
        <Choice
          label="Of"
          options={[
            { key: allLevels, label: 'All levels' },
            ...job.frame.levels.map(({ id, name }) => ({ key: id as string, label: name })),
          ]}
          value={level}
          onChange={setLevel}
        />
        <NumberField
          label="First free label on the sheet"
          value={startAt}
          onChange={setStartAt}
          help="Counted along the rows, from 1."
        />
      </div>
    </section>
  )
}

function Workbooks() {
  const [problems, setProblems] = useState<readonly ProblemGroup[] | null>(null)
  const write = async (): Promise<void> => {
    const made = await working('Writing the open workbook', () => ask('handover.workbooks', {}))
    if (made === null) return
    for (const file of made.files) keep(file)
    setProblems(made.problems)
  }
  const total = problems?.reduce((sum, { count }) => sum + count, 0) ?? 0
  return (
    <section aria-label="Open workbook">
      <SheetHeading
        level={2}
        title="Open workbook (COBie 2.4)"
        facts="one for each building"
        actions={<Button onPress={() => void write()}>Save the workbooks</Button>}
      />
      {problems !== null && problems.length > 0 && (
        <>
          <p className="padded">
            {total} cells hold “n/a”, because the job does not say what COBie asks for there. By sheet and
            field:
          </p>
          <table className="plain-table">
            <thead>
              <tr>
                <th scope="col">Sheet</th>
                <th scope="col">Field</th>
                <th scope="col" className="end">
                  Cells
                </th>
                <th scope="col">For example</th>
              </tr>
            </thead>
            <tbody>
              {problems.map(({ sheet, field, count, example }) => (
                <tr key={`${sheet} ${field}`}>
                  <td>{sheet}</td>
                  <td>{field}</td>
                  <td className="end">{count}</td>
                  <td className="soft">{example}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </section>
  )
}
