import { useCallback, useLayoutEffect, useMemo, useRef, useState } from 'react'
import { createRoot } from 'react-dom/client'
import {
  Button,
  Checkbox,
  Choice,
  Citation,
  Dialog,
  EmptySheet,
  Field,
  FindBox,
  FindOpener,
  MarginFacts,
  MarginText,
  MarginTitle,
  MenuBar,
  Notice,
  NumberField,
  Progress,
  SheetHeading,
  SideList,
  Table,
  WindowFrame,
  type CellEdit,
  type EditHow,
  type FindGroup,
  type LeftOut,
  type MenuEntry,
  type TableColumn,
  type TableHandle,
  type TableSelection,
  type TableSort,
} from '../../../../renderer/ui/index.ts'
import { demoItems, demoRows, type DemoRow } from './rows.ts'

type Owner = 'atOnce' | 'later' | 'refuses'

interface Probe {
  owner: Owner
  edits: { cells: readonly CellEdit[]; how: EditHow }[]
  opened: string[]
  leftOut: LeftOut[]
  removed: (readonly string[])[]
  selection: TableSelection | null
  drawn: number
  text: (mark: string, column: string) => string
}

declare global {
  interface Window {
    probe: Probe
  }
}

const probe: Probe = {
  owner: 'atOnce',
  edits: [],
  opened: [],
  leftOut: [],
  removed: [],
  selection: null,
  drawn: 0,
  text: () => '',
}
window.probe = probe

const query = new URLSearchParams(location.search)
const rowCount = Number(query.get('rows') ?? 142)

const Passage = ({ held }: { readonly held: boolean }) => (
  <svg width="46" height="22" viewBox="0 0 46 22" aria-hidden="true">
    <path d="M23 0 V22" stroke="var(--rule)" />
    {held ? (
      <path d="M11 3 V19" stroke="currentColor" strokeWidth="4" />
    ) : (
      <path d="M4 11 H18 M14 7 L18 11 L14 15" stroke="currentColor" strokeWidth="1.6" fill="none" />
    )}
    <path d="M28 11 H42 M38 7 L42 11 L38 15" stroke="currentColor" strokeWidth="1.6" fill="none" />
  </svg>
)

const typed = (key: string, heading: string, width: number, more: Partial<TableColumn<DemoRow>> = {}) => ({
  key,
  heading,
  width,
  align: 'start' as const,
  text: (row: DemoRow) => row.texts[key] ?? '',
  editable: () => true,
  ...more,
})

const conditions = ['Secured', 'Exit asked', 'Fire alarm', 'Mains lost', 'No power']

const columns: readonly TableColumn<DemoRow>[] = [
  {
    key: 'mark',
    heading: 'Mark',
    width: 62,
    align: 'start',
    frozen: true,
    marksRow: true,
    text: (row) => {
      probe.drawn += 1
      return row.mark
    },
  },
  typed('where', 'Where', 190, { frozen: true }),
  typed('size', 'Size', 98, { mark: (row) => (row.mark === '104' ? 'own' : undefined) }),
  typed('hand', 'Hand', 54, { choices: () => ['LH', 'RH', 'LHR', 'RHR'] }),
  typed('label', 'Label', 54, { mark: (row) => (row.mark === '105' ? 'question' : undefined) }),
  typed('typical', 'Typical', 126, { grow: true }),
  ...conditions.map((heading, index): TableColumn<DemoRow> => {
    const held = (row: DemoRow): boolean => (Number(row.mark) + index) % 3 === 0
    return {
      key: `condition${index}`,
      heading,
      width: 62,
      align: 'start',
      sortable: false,
      text: (row) => (held(row) ? 'In held, out free' : 'In free, out free'),
      cell: (row) => <Passage held={held(row)} />,
    }
  }),
  typed('feed', 'Feed', 68),
  typed('volts', 'Volts at device', 74, {
    unit: 'V',
    align: 'end',
    mark: (row) => (Number(row.texts['volts']) < 21 ? 'stop' : undefined),
    note: () => 'Under the least the device asks for.',
  }),
  typed('cautions', 'Cautions', 70, { align: 'end' }),
  ...(rowCount > 1000
    ? Array.from({ length: 6 }, (_, index) => typed(`extra${index}`, `Extra ${index}`, 90))
    : []),
]

const withEdits = (rows: readonly DemoRow[], cells: readonly CellEdit[]): DemoRow[] => {
  const byRow = Map.groupBy(cells, (cell) => cell.rowKey)
  return rows.map((row) => {
    const edits = byRow.get(row.mark)
    if (edits === undefined) return row
    const texts = { ...row.texts }
    for (const edit of edits) texts[edit.columnKey] = edit.text
    return { ...row, texts }
  })
}

const find = async (text: string): Promise<readonly FindGroup[]> => {
  await new Promise((resolve) => setTimeout(resolve, 20))
  const wanted = text.toLowerCase()
  const openings = demoRows(40)
    .filter((row) => `${row.mark} ${row.texts['where']}`.toLowerCase().includes(wanted))
    .slice(0, 6)
    .map((row) => ({ key: row.mark, label: row.mark, detail: row.texts['where'] ?? '' }))
  const deeds = [
    { key: 'print', label: 'Print the schedule', keyShown: 'Ctrl+P' },
    { key: 'takeIn', label: 'Take in a schedule' },
  ].filter((deed) => deed.label.toLowerCase().includes(wanted))
  return [
    { key: 'openings', title: 'Openings', entries: openings },
    { key: 'deeds', title: 'Things to do', entries: deeds },
  ]
}

const Parts = ({ open, onClose }: { readonly open: boolean; readonly onClose: () => void }) => {
  const [name, setName] = useState('Harrow Street Clinic')
  const [width, setWidth] = useState<number | null>(914)
  const [hand, setHand] = useState<string | null>('lh')
  const [rated, setRated] = useState(true)
  return (
    <Dialog
      title="Add an opening"
      open={open}
      onClose={onClose}
      actions={
        <>
          <Button onPress={onClose}>Cancel</Button>
          <Button kind="danger" onPress={onClose}>
            Delete
          </Button>
          <Button kind="main" keyShown="Enter" onPress={onClose}>
            Add
          </Button>
        </>
      }
    >
      <p>The opening goes to the end of its level.</p>
      <Field label="Where" value={name} onChange={setName} help="The room, and where one comes from." />
      <NumberField label="Width" unit="mm" value={width} onChange={setWidth} />
      <Field
        label="Mark"
        value="101"
        onChange={() => {}}
        problem="Mark 101 is taken on this level; choose another."
      />
      <Choice
        label="Hand"
        value={hand}
        onChange={setHand}
        options={[
          { key: 'lh', label: 'Left hand' },
          { key: 'rh', label: 'Right hand' },
        ]}
      />
      <Checkbox checked={rated} onChange={setRated}>
        The door carries a fire label
      </Checkbox>
      <Progress label="Reading the workbook" share={0.4} />
    </Dialog>
  )
}

const App = () => {
  const [rows, setRows] = useState(() => demoRows(rowCount))
  const [folded, setFolded] = useState<ReadonlySet<string>>(new Set())
  const [selection, setSelection] = useState<TableSelection | null>(null)
  const [sort, setSort] = useState<TableSort | undefined>(undefined)
  const [widths, setWidths] = useState<Readonly<Record<string, number>>>({})
  const [finding, setFinding] = useState(false)
  const [dialog, setDialog] = useState(false)
  const [notice, setNotice] = useState(query.get('notice') !== null)
  const table = useRef<TableHandle>(null)
  const ordered = useMemo(
    () =>
      sort === undefined
        ? rows
        : rows.toSorted((one, other) => {
            const by = (one.texts[sort.columnKey] ?? '').localeCompare(other.texts[sort.columnKey] ?? '')
            return sort.direction === 'up' ? by : -by
          }),
    [rows, sort],
  )
  const items = useMemo(() => demoItems(ordered, folded), [ordered, folded])
  useLayoutEffect(() => {
    window.probe.selection = selection
    window.probe.text = (mark, column) => rows.find((row) => row.mark === mark)?.texts[column] ?? ''
  })

  const onEdit = useCallback((cells: readonly CellEdit[], how: EditHow) => {
    probe.edits.push({ cells, how })
    if (probe.owner === 'atOnce') {
      setRows((now) => withEdits(now, cells))
      return undefined
    }
    return new Promise<boolean>((resolve) => {
      setTimeout(() => {
        if (probe.owner === 'later') setRows((now) => withEdits(now, cells))
        resolve(probe.owner === 'later')
      }, 400)
    })
  }, [])
  const menu = (): readonly MenuEntry[] => [
    {
      form: 'section',
      id: 'cells',
      entries: [
        {
          form: 'action',
          id: 'copy',
          label: 'Copy',
          key: 'Ctrl+C',
          onAction: () => table.current?.perform('copy'),
        },
        {
          form: 'action',
          id: 'fill',
          label: 'Fill down',
          key: 'Ctrl+D',
          onAction: () => table.current?.perform('fill'),
        },
        {
          form: 'action',
          id: 'clear',
          label: 'Clear',
          key: 'Delete',
          onAction: () => table.current?.perform('clear'),
        },
      ],
    },
    {
      form: 'section',
      id: 'rows',
      entries: [
        {
          form: 'action',
          id: 'open',
          label: 'Open the page',
          key: 'Space',
          onAction: () => table.current?.perform('open'),
        },
        { form: 'action', id: 'remove', label: 'Delete openings', disabled: true, onAction: () => {} },
      ],
    },
  ]
  return (
    <>
      <WindowFrame
        programName="Lintelbook"
        jobName="Harrow Street Clinic"
        jobFacts={['142 openings']}
        menus={
          <MenuBar
            label="Menus"
            menus={[
              {
                id: 'job',
                label: 'Job',
                entries: [
                  { form: 'action', id: 'new', label: 'New job', key: 'Ctrl+N', onAction: () => {} },
                  { form: 'action', id: 'add', label: 'Add an opening', onAction: () => setDialog(true) },
                ],
              },
              { id: 'edit', label: 'Edit', entries: menu() },
              {
                id: 'show',
                label: 'Show',
                entries: [
                  {
                    form: 'section',
                    id: 'columns',
                    title: 'Columns',
                    entries: [
                      { form: 'action', id: 'hand', label: 'Hand', checked: true, onAction: () => {} },
                      { form: 'action', id: 'label', label: 'Label', checked: false, onAction: () => {} },
                    ],
                  },
                  {
                    form: 'menu',
                    id: 'more',
                    label: 'Grouped by',
                    entries: [{ form: 'action', id: 'level', label: 'Level', onAction: () => {} }],
                  },
                ],
              },
            ]}
          />
        }
        find={
          <FindOpener
            label="Find an opening, serial, room or cable"
            keyShown="Ctrl+K"
            onOpen={() => setFinding(true)}
          />
        }
        side={
          <SideList
            onGo={() => {}}
            sections={[
              {
                key: 'sheets',
                entries: [
                  { key: 'schedule', label: 'Schedule', count: 142, current: true },
                  { key: 'power', label: 'Power', count: 9 },
                  { key: 'runs', label: 'Runs & points', count: 388 },
                  { key: 'proving', label: 'Proving', count: '61 %' },
                  { key: 'handover', label: 'Handover', count: 'Issue 2' },
                  { key: 'service', label: 'Service', disabled: true },
                ],
              },
              {
                key: 'levels',
                title: 'Harrow Street Clinic',
                entries: [1, 2, 3, 4].map((level) => ({
                  key: `${level}`,
                  label: `Level ${level}`,
                  count: 36,
                })),
              },
              {
                key: 'typicals',
                title: 'Typicals',
                entries: [
                  { key: 'a', label: 'Magnet + sensor', count: 18 },
                  { key: 'b', label: 'Strike, secure', count: 57 },
                ],
              },
            ]}
          />
        }
        notices={
          notice ? (
            <Notice
              kind="question"
              actions={<Button onPress={() => setNotice(false)}>Show them</Button>}
              onClose={() => setNotice(false)}
            >
              Row 12: the hand “LL” is none of LH, RH, LHR and RHR. It was kept as it stood.
            </Notice>
          ) : null
        }
        margin={
          <>
            <MarginTitle>118 Pharmacy store, no power</MarginTitle>
            <MarginText>
              Both sides free. The magnet holds only while it is fed; with supply PS2 and its battery gone,
              nothing holds this door shut.
            </MarginText>
            <MarginText waiting>
              Going out is held while secured, so this opening leans on three releases.
            </MarginText>
            <Citation>Local codes and the authority having jurisdiction decide.</Citation>
            <MarginTitle>Two facts are missing</MarginTitle>
            <MarginText>
              <i>Where is the manual release?</i> Whoever hangs the door can tell.
            </MarginText>
            <MarginFacts
              facts={[
                { name: 'Feed', value: 'PS2 / 1' },
                { name: 'Manual release', value: 'not known', mark: 'question' },
                { name: 'Volts', value: '20.7 V', mark: 'stop' },
              ]}
            />
          </>
        }
        footStart="Row 5 of 142: Space opens the page, Tab moves on, Ctrl+D fills down"
        footEnd={
          <>
            <span>Everything saved</span>
            <span>Undo 12 changes</span>
          </>
        }
      >
        <SheetHeading
          title="Opening schedule"
          facts="grouped by level, 142 openings, 6 need answers, 1 stops"
          actions={<Button onPress={() => setDialog(true)}>Add an opening</Button>}
        />
        <Table<DemoRow>
          label="Opening schedule"
          handle={table}
          items={items}
          columns={columns}
          selection={selection}
          onSelect={setSelection}
          onEdit={onEdit}
          onLeftOut={(leftOut) => probe.leftOut.push(leftOut)}
          onOpen={(rowKey) => probe.opened.push(rowKey)}
          onRemoveRows={(rowKeys) => probe.removed.push(rowKeys)}
          onToggle={(key) =>
            setFolded((now) => {
              const next = new Set(now)
              if (!next.delete(key)) next.add(key)
              return next
            })
          }
          sort={sort}
          onSort={(columnKey) =>
            setSort((now) => ({
              columnKey,
              direction: now?.columnKey === columnKey && now.direction === 'up' ? 'down' : 'up',
            }))
          }
          widths={widths}
          onResize={(columnKey, width) => setWidths((now) => ({ ...now, [columnKey]: width }))}
          menu={menu}
          empty={<EmptySheet>No openings yet. Take in a schedule, or add the first opening.</EmptySheet>}
        />
      </WindowFrame>
      <FindBox
        label="Find an opening, serial, room or cable"
        open={finding}
        onClose={() => setFinding(false)}
        find={find}
        onPick={(entry) => probe.opened.push(entry.key)}
      />
      <Parts open={dialog} onClose={() => setDialog(false)} />
    </>
  )
}

const root = document.getElementById('root')
if (root !== null) createRoot(root).render(<App />)
