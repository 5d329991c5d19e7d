import { useEffect, useState } from 'react'
import { runLists, type RunsOverview, type StartToChoose } from '../../../core/contract/index.ts'
import { labelStocks } from '../../../core/documents/index.ts'
import type { TagToWire } from '../../../core/runs/index.ts'
import { ask } from '../../bridge.ts'
import { Checkbox, Choice, NumberField } from '../../ui/index.ts'
import { Form } from '../dialogs.tsx'
import { keep } from '../keep.ts'
import { selectedOpenings } from '../selected.ts'
import { useAsked } from '../use-asked.ts'
import { working, type OpenJob } from '../window-state.ts'
import { carryOut } from './changes.ts'

interface Asked {
  readonly onClose: () => void
}

const startKey = ({ at, id }: StartToChoose): string => `${at} ${id}`
const noKind = 'none'
const chosenOnes = 'chosen'
const allOnes = 'all'

/** Runs to many openings at once, from one output or controller, with one kind of cable. */
export function AddRuns({ job, onClose }: Asked & { readonly job: OpenJob }) {
  const starts = useAsked('runs.starts', {})?.starts ?? []
  const kinds = useAsked('runs.cables', {})?.kinds ?? []
  const [chosen] = useState(() => selectedOpenings())
  const [where, setWhere] = useState<string>(chosen.length > 0 ? chosenOnes : allOnes)
  const [from, setFrom] = useState<string | null>(null)
  const [kindId, setKindId] = useState<string>(noKind)
  const [fill, setFill] = useState(true)
  const [tags, setTags] = useState<readonly TagToWire[]>([])
  const [wanted, setWanted] = useState<ReadonlySet<string>>(new Set())
  const start = starts.find((each) => startKey(each) === from) ?? null
  const openingIds =
    where === chosenOnes
      ? chosen
      : [...job.rows.values()]
          .filter(({ levelId }) => where === allOnes || levelId === where)
          .map(({ id }) => id as string)
  const asked = JSON.stringify({ openingIds, start: start === null ? null : { at: start.at, id: start.id } })
  useEffect(() => {
    const input = JSON.parse(asked) as {
      openingIds: string[]
      start: Pick<StartToChoose, 'at' | 'id'> | null
    }
    if (input.start === null) return
    let current = true
    void ask('runs.tags', { openingIds: input.openingIds, start: input.start }).then((answer) => {
      if (!current || !answer.ok) return
      setTags(answer.value.tags)
      setWanted(
        new Set(answer.value.tags.filter(({ usual, without }) => usual && without > 0).map(({ tag }) => tag)),
      )
    })
    return () => {
      current = false
    }
  }, [asked])
  const count = tags.filter(({ tag }) => wanted.has(tag)).reduce((sum, { without }) => sum + without, 0)
  return (
    <Form
      title="Add runs to openings"
      does={count === 0 ? 'Add runs' : `Add ${count} ${count === 1 ? 'run' : 'runs'}`}
      ready={start !== null && count > 0}
      size="middle"
      onClose={onClose}
      onDo={async () => {
        if (start === null) return false
        return carryOut(
          ask('runs.add', {
            openingIds: [...openingIds],
            start: { at: start.at, id: start.id },
            tags: [...wanted],
            cableKindId: kindId === noKind ? null : kindId,
            fillLengths: fill,
          }),
          'All of them have such a run already.',
        )
      }}
    >
      <Choice
        label="To"
        options={[
          ...(chosen.length > 0
            ? [
                {
                  key: chosenOnes,
                  label:
                    chosen.length === 1
                      ? 'The opening chosen on the schedule'
                      : `The ${chosen.length} openings chosen on the schedule`,
                },
              ]
            : []),
          { key: allOnes, label: 'All openings' },
          ...job.frame.levels.map(({ id, name }) => ({ key: id as string, label: name })),
        ]}
        value={where}
        onChange={setWhere}
      />
      <Choice
        label="From"
        placeholder="Choose an output or a controller"
        options={starts.map((each) => ({ key: startKey(each), label: each.name }))}
        value={from}
        onChange={setFrom}
      />
      <Choice
        label="Cable"
        options={[
          { key: noKind, label: 'Not known yet' },
          ...kinds.map(({ id, name }) => ({ key: id as string, label: name })),
        ]}
        value={kindId}
        onChange={setKindId}
      />
      {start !== null && (
        <fieldset className="tag-list">
          <legend>Which fittings</legend>
          {tags.length === 0 && <p className="soft">These openings have no fittings yet.</p>}
          {tags.map(({ tag, partName, openings, without }) => (
            <Checkbox
              key={tag}
              checked={wanted.has(tag)}
              disabled={without === 0}
              onChange={(on) => {
                const next = new Set(wanted)
                if (on) next.add(tag)
                else next.delete(tag)
                setWanted(next)
              }}
            >
              <b>{tag}</b> {partName} <span className="soft">{withoutWords(without, openings)}</span>
            </Checkbox>
          ))}
        </fieldset>
      )}
      <Checkbox checked={fill} onChange={setFill}>
        Lengths from the routes, where they say one
      </Checkbox>
      <p className="soft">
        {start?.at === 'controller'
          ? 'Every conductor is taken for a signal until it is said otherwise.'
          : 'The first conductor is taken for the feed, the second for its return, the others as spare, until it is said otherwise.'}
      </p>
    </Form>
  )
}

const withoutWords = (without: number, openings: number): string =>
  without === 0 ? 'all have such a run' : `${without} of ${openings} without a run`

const papers = {
  'cables level': 'Cable list by level',
  'cables source': 'Cable list by supply and controller',
  points: 'Point list of every controller',
  quantities: 'Quantities of cable',
} as const
type Paper = keyof typeof papers

const listWords: Readonly<Record<(typeof runLists)[number], string>> = {
  cables: 'Cable list',
  conductors: 'Conductors',
  points: 'Points',
  quantities: 'Quantities',
}

export function PrintLists({ onClose }: Asked) {
  const [paper, setPaper] = useState<Paper>('cables level')
  return (
    <Form
      title="Print"
      does="Make the PDF"
      onClose={onClose}
      onDo={async () => {
        const made = await working(`Setting the ${papers[paper].toLowerCase()}`, () =>
          ask(
            'print.runs',
            paper === 'points'
              ? { list: 'points', controllerId: null }
              : paper === 'quantities'
                ? { list: 'quantities' }
                : { list: 'cables', by: paper === 'cables level' ? 'level' : 'source' },
          ),
        )
        if (made !== null) keep(made)
        return made !== null
      }}
    >
      <Choice
        label="List"
        options={Object.entries(papers).map(([key, label]) => ({ key, label }))}
        value={paper}
        onChange={(key) => setPaper(key as Paper)}
      />
    </Form>
  )
}

export function ExportLists({ onClose }: Asked) {
  const [list, setList] = useState<(typeof runLists)[number]>('cables')
  const [form, setForm] = useState<'xlsx' | 'csv'>('xlsx')
  return (
    <Form
      title="For a spreadsheet"
      does="Make the file"
      onClose={onClose}
      onDo={async () => {
        const made = await working('Writing the list', () => ask('export.runs', { list, form }))
        if (made !== null) keep(made)
        return made !== null
      }}
    >
      <Choice
        label="List"
        options={runLists.map((key) => ({ key, label: listWords[key] }))}
        value={list}
        onChange={(key) => setList(key as typeof list)}
      />
      <Choice
        label="As"
        options={[
          { key: 'xlsx', label: 'Workbook (XLSX)' },
          { key: 'csv', label: 'Plain table (CSV)' },
        ]}
        value={form}
        onChange={(key) => setForm(key as typeof form)}
      />
    </Form>
  )
}

/** Labels for both ends of the runs in view, or of those that are taken. */
export function CableLabels({
  overview,
  runIds,
  onClose,
}: Asked & { readonly overview: RunsOverview; readonly runIds: readonly string[] }) {
  const [stock, setStock] = useState('letter-30')
  const [startAt, setStartAt] = useState<number | null>(1)
  const runs = runIds.length === 0 ? overview.rows.length : runIds.length
  return (
    <Form
      title="Labels for cable ends"
      does={`Make ${runs * 2} labels`}
      ready={runs > 0 && startAt !== null && startAt >= 1 && Number.isInteger(startAt)}
      onClose={onClose}
      onDo={async () => {
        const made = await working('Setting the labels', () =>
          ask('print.cableLabels', { runIds: [...runIds], stock, startAt: startAt ?? 1 }),
        )
        if (made !== null) keep(made)
        return made !== null
      }}
    >
      <p>
        {runIds.length === 0 ? 'Every run' : `The ${runs === 1 ? 'run' : `${runs} runs`} in view`}: two labels
        each, one for each end.
      </p>
      <Choice
        label="Sheet or roll"
        options={labelStocks.map(({ key, name }) => ({ key, label: name }))}
        value={stock}
        onChange={setStock}
      />
      <NumberField label="First free label" value={startAt} onChange={setStartAt} />
      <p className="soft">Print without fitting to the page, and measure the first sheet.</p>
    </Form>
  )
}
