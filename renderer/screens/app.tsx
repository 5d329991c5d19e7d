// The window: what stands where, and the keys that work everywhere.
import { useEffect, useState } from 'react'
import type { FindHit } from '../../core/contract/index.ts'
import { plainWords } from '../../core/schedule/index.ts'
import { ask } from '../bridge.ts'
import {
  Button,
  FindBox,
  FindOpener,
  MenuBar,
  Notice,
  Progress,
  SideList,
  WindowFrame,
  type FindEntry,
  type FindGroup,
  type SideSection,
} from '../ui/index.ts'
import { CommandsProvider, useCommands } from './commands.tsx'
import { CautionsMargin, CautionsSheet } from './cautions/index.ts'
import { HandoverMargin, HandoverSheet } from './handover/index.ts'
import { HistoryMargin, HistorySheet } from './history/index.ts'
import { IntakeMargin, IntakeSheet } from './intake/index.ts'
import { JobMargin, JobSheet } from './job/index.ts'
import { OpeningMargin, OpeningSheet } from './opening/index.ts'
import { PartMargin, PartSheet, PartsMargin, PartsSheet } from './parts/index.ts'
import { goTo, usePlace, type Place } from './place.ts'
import { PowerMargin, PowerSheet, SupplyMargin, SupplySheet } from './power/index.ts'
import { ProofMargin, ProofSheet, ProvingMargin, ProvingSheet } from './proving/index.ts'
import { RunsAndPointsMargin, RunsAndPointsSheet } from './runs/index.ts'
import { ScheduleMargin, ScheduleSheet } from './schedule/index.ts'
import { selectedOpenings } from './selected.ts'
import { CallMargin, CallSheet, ServiceMargin, ServiceSheet } from './service/index.ts'
import { SettingsMargin, SettingsSheet } from './settings/index.ts'
import { pickShelfEntry, shelfEntries, ShelfSheet } from './shelf/index.ts'
import { TypicalMargin, TypicalSheet } from './typicals/index.ts'
import {
  arrange,
  lookAgain,
  makeChange,
  readSchedule,
  readShelf,
  redo,
  revealOpening,
  tell,
  undo,
  useWindow,
  type OpenJob,
} from './window-state.ts'

const lookAgainMilliseconds = 2000

export function App() {
  const [started, setStarted] = useState(false)
  const scheme = useWindow((state) => state.preferences.scheme)
  useEffect(() => {
    void Promise.all([readSchedule(true), readShelf()]).then(() => {
      setStarted(true)
      // The shelf is looked through while the person finds the keyboard.
      void ask('library.refresh', {})
    })
    const looking = setInterval(() => void lookAgain(), lookAgainMilliseconds)
    return () => clearInterval(looking)
  }, [])
  useEffect(() => {
    const root = document.documentElement
    if (scheme === 'system') delete root.dataset['scheme']
    else root.dataset['scheme'] = scheme
  }, [scheme])
  return (
    <CommandsProvider>{started ? <Window /> : <p className="starting">Opening the job…</p>}</CommandsProvider>
  )
}

function Window() {
  const job = useWindow((state) => state.job)
  const place = usePlace()
  const [finding, setFinding] = useState(false)
  useKeys(() => setFinding(true))
  const { takeInFile } = useCommands()
  return (
    <div
      className="drop-place"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault()
        const [file] = event.dataTransfer.files
        if (file !== undefined && job !== null) void takeInFile(file)
      }}
    >
      <WindowFrame
        programName="Lintelbook"
        {...(job === null ? {} : { jobName: job.frame.job.name, jobFacts: jobFacts(job) })}
        menus={<Menus />}
        find={
          job !== null && (
            <FindOpener
              label="Find an opening, room, serial or note"
              keyShown="Ctrl K"
              onOpen={() => setFinding(true)}
            />
          )
        }
        side={<Side place={place} />}
        notices={<Notices />}
        margin={job === null ? undefined : <Margin place={place} />}
        footStart={job === null ? null : <FootWords place={place} />}
        footEnd={job === null ? null : <FootState job={job} />}
      >
        {job === null ? <ShelfSheet /> : <Sheet place={place} />}
      </WindowFrame>
      <FindBox
        label="Find an opening, room, serial or note"
        open={finding}
        onClose={() => setFinding(false)}
        find={findGroups}
        onPick={pickFound}
      />
    </div>
  )
}

const jobFacts = (job: OpenJob): readonly string[] => [
  `${job.rows.size} ${job.rows.size === 1 ? 'opening' : 'openings'}`,
  ...(job.state.readOnly === null ? [] : ['Reading only']),
]

function Menus() {
  const { menus } = useCommands()
  // Read anew with every change that a menu shows: undo's name, what is checked, what is selected.
  useWindow((state) => state.job?.state)
  useWindow((state) => state.arrangement)
  useWindow((state) => state.preferences)
  useWindow((state) => state.selection)
  return <MenuBar label="Menus" menus={menus()} />
}

function Sheet({ place }: { readonly place: Place }) {
  switch (place.sheet) {
    case 'schedule':
      return <ScheduleSheet />
    case 'opening':
      return <OpeningSheet key={place.openingId} openingId={place.openingId} />
    case 'typical':
      return <TypicalSheet key={place.typicalId} typicalId={place.typicalId} />
    case 'cautions':
      return <CautionsSheet />
    case 'parts':
      return <PartsSheet />
    case 'part':
      return <PartSheet key={place.partId} partId={place.partId} />
    case 'settings':
      return <SettingsSheet />
    case 'power':
      return <PowerSheet />
    case 'supply':
      return <SupplySheet key={place.supplyId} supplyId={place.supplyId} />
    case 'runs':
      return <RunsAndPointsSheet />
    case 'proving':
      return <ProvingSheet />
    case 'proof':
      return <ProofSheet key={place.openingId} openingId={place.openingId} />
    case 'handover':
      return <HandoverSheet />
    case 'service':
      return <ServiceSheet />
    case 'call':
      return <CallSheet key={place.openingId} openingId={place.openingId} />
    case 'job':
      return <JobSheet />
    case 'history':
      return <HistorySheet />
    case 'intake':
      return <IntakeSheet />
  }
}

function Margin({ place }: { readonly place: Place }) {
  switch (place.sheet) {
    case 'schedule':
      return <ScheduleMargin />
    case 'opening':
      return <OpeningMargin openingId={place.openingId} />
    case 'typical':
      return <TypicalMargin typicalId={place.typicalId} />
    case 'cautions':
      return <CautionsMargin />
    case 'parts':
      return <PartsMargin />
    case 'part':
      return <PartMargin partId={place.partId} />
    case 'settings':
      return <SettingsMargin />
    case 'power':
      return <PowerMargin />
    case 'supply':
      return <SupplyMargin supplyId={place.supplyId} />
    case 'runs':
      return <RunsAndPointsMargin />
    case 'proving':
      return <ProvingMargin />
    case 'proof':
      return <ProofMargin />
    case 'handover':
      return <HandoverMargin />
    case 'service':
      return <ServiceMargin />
    case 'call':
      return <CallMargin />
    case 'job':
      return <JobMargin />
    case 'history':
      return <HistoryMargin />
    case 'intake':
      return <IntakeMargin />
  }
}

/** The sheets of the work, in the order of the work, with the pages that belong to each. */
const workSheets: readonly {
  readonly key: string
  readonly label: string
  readonly pages: readonly Place['sheet'][]
}[] = [
  { key: 'cautions', label: 'Cautions', pages: ['cautions'] },
  { key: 'parts', label: 'Parts', pages: ['parts', 'part'] },
  { key: 'settings', label: 'Settings', pages: ['settings'] },
  { key: 'power', label: 'Power', pages: ['power', 'supply'] },
  { key: 'runs', label: 'Runs & points', pages: ['runs'] },
  { key: 'proving', label: 'Proving', pages: ['proving', 'proof'] },
  { key: 'handover', label: 'Handover', pages: ['handover'] },
  { key: 'service', label: 'Service', pages: ['service', 'call'] },
]

function Side({ place }: { readonly place: Place }) {
  const job = useWindow((state) => state.job)
  const arrangement = useWindow((state) => state.arrangement)
  const intake = useWindow((state) => state.intake)
  if (job === null)
    return (
      <SideList
        sections={[{ key: 'sheets', entries: [{ key: 'shelf', label: 'Shelf', current: true }] }]}
        onGo={() => {}}
      />
    )
  const { frame } = job
  const onSchedule = place.sheet === 'schedule'
  const sections: SideSection[] = [
    {
      key: 'sheets',
      entries: [
        {
          key: 'schedule',
          label: 'Schedule',
          count: job.rows.size,
          current: onSchedule || place.sheet === 'opening',
        },
        ...(intake === null
          ? []
          : [
              {
                key: 'intake',
                label: 'Take-in',
                count: 'not accepted',
                current: place.sheet === 'intake',
              },
            ]),
        ...workSheets.map(({ key, label, pages }) => ({
          key,
          label,
          current: pages.some((each) => each === place.sheet),
        })),
        { key: 'history', label: 'What was changed', current: place.sheet === 'history' },
        { key: 'job', label: 'Job details', current: place.sheet === 'job' },
      ],
    },
    ...frame.buildings.map((building) => ({
      key: `building ${building.id}`,
      title: building.name,
      entries: frame.levels
        .filter((level) => level.buildingId === building.id)
        .map((level) => ({
          key: level.id as string,
          label: level.name,
          count: level.openings,
          current: onSchedule && arrangement.levelIds.includes(level.id),
        })),
    })),
    {
      key: 'typicals',
      title: 'Typicals',
      entries: frame.typicals.map((typical) => ({
        key: typical.id as string,
        label: typical.name,
        count: typical.openings,
        current: place.sheet === 'typical' && place.typicalId === typical.id,
      })),
    },
  ]
  return <SideList sections={sections} onGo={goToSide} />
}

function goToSide(entryKey: string, sectionKey: string): void {
  const { arrangement } = useWindow.getState()
  tell(null)
  if (sectionKey === 'sheets') {
    if (entryKey === 'schedule') arrange({ words: '', levelIds: [], typicalIds: [], only: 'all' })
    goTo({ sheet: entryKey } as Place)
  } else if (sectionKey === 'typicals') goTo({ sheet: 'typical', typicalId: entryKey })
  else {
    const chosen = arrangement.levelIds.length === 1 && arrangement.levelIds[0] === entryKey
    arrange({ levelIds: chosen ? [] : [entryKey], typicalIds: [] })
    goTo({ sheet: 'schedule' })
  }
}

function Notices() {
  const notice = useWindow((state) => state.notice)
  const words = useWindow((state) => state.working)
  const [all, setAll] = useState(false)
  if (words !== null) return <Progress label={words} share={null} />
  if (notice === null) return null
  const { more = [], actions = [] } = notice
  const shown = all ? more : more.slice(0, 3)
  return (
    <Notice
      kind={notice.weight === 'told' ? 'plain' : notice.weight}
      onClose={() => tell(null)}
      actions={
        <>
          {more.length > shown.length && (
            <Button kind="quiet" onPress={() => setAll(true)}>
              All {more.length}
            </Button>
          )}
          {actions.map((each) => (
            <Button key={each.label} onPress={each.act}>
              {each.label}
            </Button>
          ))}
        </>
      }
    >
      {notice.words}
      {shown.length > 0 && (
        <ul className="notice-more">
          {shown.map((each) => (
            <li key={each}>{each}</li>
          ))}
        </ul>
      )}
    </Notice>
  )
}

function FootWords({ place }: { readonly place: Place }) {
  const selection = useWindow((state) => state.selection)
  useWindow((state) => state.groups)
  const count = selection === null ? 0 : selectedOpenings().length
  switch (place.sheet) {
    case 'schedule':
      return count > 1
        ? `${count} openings selected: Ctrl D fills down, Delete clears`
        : 'Type to replace, F2 to change, Space opens the page, Ctrl D fills down'
    case 'opening':
      return 'Page Up and Page Down turn the page, Escape goes back to the schedule'
    case 'typical':
      return 'A change here reaches every opening that follows it'
    case 'intake':
      return 'Nothing is written until it is accepted'
    default:
      return 'Escape goes back to the schedule'
  }
}

function FootState({ job }: { readonly job: OpenJob }) {
  const { undoName, readOnly } = job.state
  return (
    <>
      <span>{readOnly === null ? 'Everything saved' : 'Reading only'}</span>
      {undoName !== null && readOnly === null && (
        <button type="button" className="foot-button" onClick={() => void undo()}>
          Undo: {undoName}
        </button>
      )}
    </>
  )
}

/** Keys that work wherever no field has them first. */
function useKeys(find: () => void): void {
  const { openDialog } = useCommands()
  const place = usePlace()
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const { job } = useWindow.getState()
      if (job === null) return
      const target = event.target instanceof HTMLElement ? event.target : null
      const typing = target !== null && target.matches('input, textarea, [contenteditable]')
      const control = event.ctrlKey || event.metaKey
      const key = event.key.toLowerCase()
      const does = (act: () => unknown): void => {
        event.preventDefault()
        void act()
      }
      if (control && key === 'k') return does(find)
      if (control && key === 'p') return does(() => openDialog({ form: 'print' }))
      if (typing || document.querySelector('[role=dialog]') !== null) return
      if (control && key === 'z') return does(event.shiftKey ? redo : undo)
      if (control && key === 'y') return does(redo)
      if (job.state.readOnly === null && control && key === 'enter')
        return does(() => openDialog({ form: 'add openings', levelId: null }))
      if (job.state.readOnly === null && control && event.shiftKey && key === 'd')
        return does(() => {
          const openingIds = selectedOpenings()
          if (openingIds.length > 0)
            return makeChange({ does: 'duplicate openings', openingIds: [...openingIds] })
          return undefined
        })
      if (key === 'escape' && place.sheet !== 'schedule') does(() => goTo({ sheet: 'schedule' }))
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [find, openDialog, place])
}

async function findGroups(text: string): Promise<readonly FindGroup[]> {
  const { job } = useWindow.getState()
  if (job === null) return []
  if (text.trim() === '') return [goGroup(job)]
  const answer = await ask('find.words', { words: text, limit: 40 })
  if (!answer.ok) throw new Error(answer.problem.sentence)
  const entry = (hit: FindHit): FindEntry => ({
    key: `${hit.kind} ${hit.id} ${hit.openingId ?? ''}`,
    label: hit.title,
    detail: hit.detail,
  })
  const { hits } = answer.value
  const groups = [
    { key: 'openings', title: 'Openings', entries: hits.filter((hit) => hit.openingId !== null).map(entry) },
    {
      key: 'others',
      title: 'Elsewhere in this job',
      entries: hits.filter((hit) => hit.openingId === null).map(entry),
    },
  ]
  // A typical or level called just that goes before the many openings that only hold the word.
  const named = hits.some((hit) => hit.openingId === null && plainWords(hit.title) === plainWords(text))
  const known = new Set(hits.map((hit) => hit.openingId ?? hit.id))
  const shelf = { key: 'shelf', title: 'On the shelf', entries: await shelfEntries(text, known) }
  return [...(named ? groups.toReversed() : groups), shelf]
}

const goGroup = (job: OpenJob): FindGroup => ({
  key: 'go',
  title: 'Go to',
  entries: [
    { key: 'sheet schedule', label: 'Schedule' },
    ...workSheets.map(({ key, label }) => ({ key: `sheet ${key}`, label })),
    { key: 'sheet history', label: 'What was changed' },
    { key: 'sheet job', label: 'Job details' },
    ...job.frame.typicals.map((typical) => ({
      key: `typical ${typical.id}`,
      label: typical.name,
      detail: 'typical',
    })),
  ],
})

function pickFound(entry: FindEntry): void {
  const [kind, id = '', openingId = ''] = entry.key.split(' ')
  if (kind === 'sheet') goTo({ sheet: id } as Place)
  else if (pickShelfEntry(entry.key)) return
  else if (openingId !== '') {
    revealOpening(openingId)
    goTo({ sheet: 'opening', openingId })
  } else if (kind === 'typical') goTo({ sheet: 'typical', typicalId: id })
  else if (kind === 'level') {
    arrange({ levelIds: [id], typicalIds: [], words: '' })
    goTo({ sheet: 'schedule' })
  } else if (kind === 'space') {
    // A room has no page of its own: show the openings whose rows name it.
    arrange({ levelIds: [], typicalIds: [], words: entry.label })
    goTo({ sheet: 'schedule' })
  } else tell({ weight: 'told', words: `${entry.label}: ${entry.detail ?? kind}.` })
}
