// Every deed of the window in one place: its words, its key, and what it does. Menus, keys and buttons all come here.
import { createContext, useContext, useMemo, useRef, useState, type ReactNode } from 'react'
import { groupings, type Arrangement, type Grouping } from '../../core/schedule/index.ts'
import { ask } from '../bridge.ts'
import type { MenuAction, MenuBarMenu, MenuEntry, TableDeed } from '../ui/index.ts'
import type { DialogState } from './dialog-state.ts'
import { Dialogs } from './dialogs.tsx'
import { bytesToBase64 } from './files.ts'
import { showView, type HandoverView } from './handover/index.ts'
import { exportSchedule, keep } from './keep.ts'
import { openPartsDialog, type PartsDialog } from './parts-dialog-state.ts'
import { goTo } from './place.ts'
import { scheduleTable } from './schedule-table.ts'
import { selectedOpenings } from './selected.ts'
import {
  arrange,
  leaveJob,
  makeChange,
  prefer,
  redo,
  setIntake,
  tell,
  undo,
  useWindow,
  working,
} from './window-state.ts'

interface Commands {
  readonly openDialog: (dialog: DialogState) => void
  /** Asks for a file and takes it in. */
  readonly chooseFile: () => void
  readonly takeInFile: (file: File) => Promise<void>
  readonly contextMenu: (openingIds: readonly string[]) => readonly MenuEntry[]
  readonly menus: () => readonly MenuBarMenu[]
}

const CommandsContext = createContext<Commands | null>(null)

export function useCommands(): Commands {
  const commands = useContext(CommandsContext)
  if (commands === null) throw new Error('useCommands outside CommandsProvider')
  return commands
}

const action = (
  id: string,
  label: string,
  onAction: () => void,
  rest: { key?: string; disabled?: boolean; checked?: boolean } = {},
): MenuAction => ({ form: 'action', id, label, onAction, ...rest })

const section = (id: string, entries: readonly MenuAction[], title?: string): MenuEntry => ({
  form: 'section',
  id,
  entries,
  ...(title === undefined ? {} : { title }),
})

const groupWords: Readonly<Record<Grouping, string>> = {
  level: 'By level',
  building: 'By building',
  typical: 'By typical',
  label: 'By fire label',
  furnished: 'By who furnishes',
  nothing: 'Without groups',
}
const onlyWords: Readonly<Record<Arrangement['only'], string>> = {
  all: 'All openings',
  questions: 'Only those with open questions',
  differing: 'Only those differing from the typical',
}

export function CommandsProvider({ children }: { readonly children: ReactNode }) {
  const [dialog, setDialog] = useState<DialogState | null>(null)
  const fileInput = useRef<HTMLInputElement>(null)
  const commands = useMemo<Commands>(() => {
    const takeInFile = async (file: File): Promise<void> => {
      const preview = await working(`Reading ${file.name}`, async () =>
        ask('intake.file', { fileName: file.name, base64: bytesToBase64(await file.arrayBuffer()) }),
      )
      if (preview === null) return
      setIntake(preview)
      goTo({ sheet: 'intake' })
    }
    const chooseFile = (): void => fileInput.current?.click()
    const openDialog = setDialog
    return {
      openDialog,
      chooseFile,
      takeInFile,
      contextMenu: (openingIds) => openingEntries(openingIds, openDialog),
      menus: () => windowMenus(openDialog, chooseFile),
    }
  }, [])
  return (
    <CommandsContext value={commands}>
      {children}
      <input
        ref={fileInput}
        type="file"
        hidden
        aria-label="File to take in"
        accept=".xlsx,.csv,.txt,.tsv,.ifc,.ifczip,.json"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? []
          event.currentTarget.value = ''
          if (file !== undefined) void commands.takeInFile(file)
        }}
      />
      <Dialogs dialog={dialog} onClose={() => setDialog(null)} />
    </CommandsContext>
  )
}

function openingEntries(
  openingIds: readonly string[],
  openDialog: (dialog: DialogState) => void,
): readonly MenuEntry[] {
  const { job } = useWindow.getState()
  const none = openingIds.length === 0
  const locked = none || job === null || job.state.readOnly !== null
  const many = openingIds.length > 1 ? ` ${openingIds.length} openings` : ''
  const [first] = openingIds
  return [
    section('one', [
      action(
        'open',
        'Open its page',
        () => first !== undefined && goTo({ sheet: 'opening', openingId: first }),
        {
          key: 'Space',
          disabled: openingIds.length !== 1,
        },
      ),
      action(
        'call',
        'Answer a call about it',
        () => first !== undefined && goTo({ sheet: 'call', openingId: first }),
        { disabled: openingIds.length !== 1 },
      ),
    ]),
    section('several', [
      action(
        'duplicate',
        `Duplicate${many}`,
        () => void makeChange({ does: 'duplicate openings', openingIds: [...openingIds] }),
        {
          disabled: locked,
          key: 'Ctrl+Shift+D',
        },
      ),
      action('renumber', `Renumber${many}…`, () => openDialog({ form: 'renumber', openingIds }), {
        disabled: locked,
      }),
      action('move', `Move${many} to a level…`, () => openDialog({ form: 'move', openingIds }), {
        disabled: locked,
      }),
      action('remove', `Remove${many}…`, () => openDialog({ form: 'remove', openingIds }), {
        disabled: locked,
      }),
    ]),
  ]
}

/** The table's own deeds. Most browsers let nobody paste from a menu; then the key is the way, and the menu says so. */
function cellActions(locked: boolean): readonly MenuAction[] {
  const away = scheduleTable.current === null
  const perform = (deed: TableDeed, key: string) => (): void => {
    // After the menu has given the focus back.
    setTimeout(() => {
      scheduleTable.current?.focus()
      if (scheduleTable.current?.perform(deed) === false)
        tell({ weight: 'told', words: `This window does not let a menu do that; press ${key}.` })
    })
  }
  const entry = (deed: TableDeed, label: string, key: string, writes: boolean): MenuAction =>
    action(`cells ${deed}`, label, perform(deed, key), { key, disabled: away || (writes && locked) })
  return [
    entry('edit', 'Change the cell', 'F2', true),
    entry('copy', 'Copy', 'Ctrl+C', false),
    entry('paste', 'Paste', 'Ctrl+V', true),
    entry('fill', 'Fill down', 'Ctrl+D', true),
    entry('clear', 'Clear', 'Delete', true),
    entry('selectAll', 'Select all', 'Ctrl+A', false),
  ]
}

function windowMenus(
  openDialog: (dialog: DialogState) => void,
  chooseFile: () => void,
): readonly MenuBarMenu[] {
  const { job, arrangement, preferences } = useWindow.getState()
  const noJob = job === null
  const locked = noJob || job.state.readOnly !== null
  const state = job?.state
  const job_: MenuBarMenu = {
    id: 'job',
    label: 'Job',
    entries: [
      section('shelf', [
        action('new', 'New job…', () => openDialog({ form: 'new job' })),
        action('close', 'Close and go to the shelf', () => void leaveJob(), { disabled: noJob }),
      ]),
      section('in', [
        action('take', 'Take in a file…', chooseFile, { disabled: locked }),
        action('paste', 'Take in pasted rows…', () => openDialog({ form: 'paste rows' }), {
          disabled: locked,
        }),
      ]),
      section('out', [
        action('print', 'Print the schedule…', () => openDialog({ form: 'print' }), {
          key: 'Ctrl+P',
          disabled: noJob,
        }),
        action(
          'print cautions',
          'Print behaviour and cautions…',
          () => openDialog({ form: 'print cautions' }),
          {
            disabled: noJob,
          },
        ),
        action('xlsx', 'Save the schedule as a workbook', () => void exportSchedule('xlsx'), {
          disabled: noJob,
        }),
        action('csv', 'Save the schedule as CSV', () => void exportSchedule('csv'), { disabled: noJob }),
        action('twin', 'Save the whole job as text', () => void saveTwin(), { disabled: noJob }),
        action('issue', 'Issues, and what is open', () => toHandover('standing'), { disabled: noJob }),
        action('binder', 'Print a binder', () => toHandover('binder'), { disabled: noJob }),
        action('labels', 'Labels, open workbook and calendar', () => toHandover('files'), {
          disabled: noJob,
        }),
      ]),
      section('keep', [
        action('details', 'Job, buildings and levels', () => goTo({ sheet: 'job' }), { disabled: noJob }),
        action('backup', 'Back up now', () => void backUp(), { disabled: locked }),
        action('history', 'What was changed', () => goTo({ sheet: 'history' }), { disabled: noJob }),
      ]),
    ],
  }
  const change: MenuBarMenu = {
    id: 'change',
    label: 'Change',
    entries: [
      section('turn', [
        action('undo', state?.undoName ? `Undo: ${state.undoName}` : 'Undo', () => void undo(), {
          key: 'Ctrl+Z',
          disabled: locked || !state?.undoName,
        }),
        action('redo', state?.redoName ? `Redo: ${state.redoName}` : 'Redo', () => void redo(), {
          key: 'Ctrl+Y',
          disabled: locked || !state?.redoName,
        }),
      ]),
      section('cells', cellActions(locked)),
      section('add', [
        action('add', 'Add openings…', () => openDialog({ form: 'add openings', levelId: null }), {
          key: 'Ctrl+Enter',
          disabled: locked,
        }),
        action('level', 'Add a level…', () => openDialog({ form: 'add level' }), { disabled: locked }),
        action('typical', 'Add a typical…', () => openDialog({ form: 'add typical' }), { disabled: locked }),
        action('part', 'Add a part…', () => askOfParts({ form: 'new part', likePartId: null }), {
          disabled: locked,
        }),
        action('bring in', 'Bring in parts and typicals…', () => askOfParts({ form: 'bring in' }), {
          disabled: locked,
        }),
      ]),
      ...openingEntries(selectedOpenings(), openDialog),
    ],
  }
  const view: MenuBarMenu = {
    id: 'view',
    label: 'View',
    entries: [
      section('columns', [
        action('columns', 'Columns…', () => openDialog({ form: 'columns' }), { disabled: noJob }),
        action('widths', 'Usual column widths', () => prefer({ widths: {} }), { disabled: noJob }),
        action('sort', 'Arrange anew', () => arrange({}), { disabled: noJob }),
      ]),
      section('gates', [
        action('gates', 'What each doorway does', () => prefer({ gates: !preferences.gates }), {
          disabled: noJob,
          checked: preferences.gates,
        }),
      ]),
      section(
        'group',
        groupings.map((group) =>
          action(`group ${group}`, groupWords[group], () => arrange({ group }), {
            checked: arrangement.group === group,
            disabled: noJob,
          }),
        ),
        'Group',
      ),
      section(
        'only',
        (['all', 'questions', 'differing'] as const).map((only) =>
          action(`only ${only}`, onlyWords[only], () => arrange({ only }), {
            checked: arrangement.only === only,
            disabled: noJob,
          }),
        ),
        'Show',
      ),
      section(
        'scheme',
        (['system', 'light', 'dark'] as const).map((scheme) =>
          action(
            `scheme ${scheme}`,
            { system: 'Light or dark as the machine', light: 'Light', dark: 'Dark' }[scheme],
            () => prefer({ scheme }),
            { checked: preferences.scheme === scheme },
          ),
        ),
        'Paper',
      ),
    ],
  }
  return [job_, change, view]
}

function askOfParts(dialog: PartsDialog): void {
  goTo({ sheet: 'parts' })
  openPartsDialog(dialog)
}

function toHandover(view: HandoverView): void {
  showView(view)
  goTo({ sheet: 'handover' })
}

async function saveTwin(): Promise<void> {
  const made = await working('Writing the job as text', () => ask('twin.write', {}))
  if (made !== null) keep(made)
}

async function backUp(): Promise<void> {
  const made = await working('Backing up', () => ask('job.backUp', {}))
  if (made !== null) tell({ weight: 'told', words: `Backed up as ${made.path}.` })
}
