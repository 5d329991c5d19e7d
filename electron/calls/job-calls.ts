// The shelf of job files, and making, opening and closing one.
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs'
import path from 'node:path'
import {
  done,
  refused,
  type Answer,
  type Handlers,
  type JobState,
  type LintelbookContract,
  type Shelf,
  type ShelfEntry,
} from '../../core/contract/index.ts'
import { readLibrary, type Library } from '../../core/exchange/index.ts'
import { asId, type Job } from '../../core/job/index.ts'
import type { ProgramOptions } from '../machine.ts'
import { fileNameForJob, jobFileExtension, makeJobFile, makeJobFromTwin } from '../store/index.ts'
import { closeFile, fromStore, jobState, openAt, storeOptions, withFile, type Desk } from './desk.ts'
import { demoTwin, partsLibrary } from './supplied.ts'

type JobCalls = Pick<
  Handlers<LintelbookContract>,
  'shelf.read' | 'job.make' | 'job.open' | 'job.openDemo' | 'job.choose' | 'job.close' | 'job.backUp'
>

export const jobCalls = (desk: Desk): JobCalls => ({
  'shelf.read': () => done(readShelf(desk)),
  'job.make': ({ name }) => makeJob(desk, name),
  'job.open': ({ path: jobPath, readOnly }) =>
    jobPath.endsWith(jobFileExtension)
      ? openAt(desk, path.resolve(jobPath), readOnly)
      : refused(
          'not-a-job',
          `Job files end in ${jobFileExtension}; this one does not: ${path.basename(jobPath)}.`,
        ),
  'job.openDemo': () => openDemo(desk),
  'job.choose': async () => {
    const chosen = (await desk.options.chooseJobFile?.()) ?? null
    if (chosen === null) return done({ state: null })
    const opened = openAt(desk, chosen, false)
    return opened.ok ? done({ state: opened.value }) : opened
  },
  'job.close': () => {
    closeFile(desk)
    return done({})
  },
  'job.backUp': () =>
    withFile(desk, (file) => {
      const made = file.backup()
      return made.ok ? done({ path: made.backup.path }) : fromStore(made)
    }),
})

export function readShelf(desk: Desk): Shelf {
  const { jobsFolder } = desk.options
  const paths = [...new Set([...desk.keeping.recent(), ...jobFilesIn(jobsFolder)])]
  const entries = paths.flatMap((each) => shelfEntry(each) ?? [])
  return {
    folder: jobsFolder,
    entries: entries.toSorted((a, b) => (a.modifiedAt < b.modifiedAt ? 1 : -1)),
    open: desk.file === null ? null : jobState(desk.file),
    trouble: desk.trouble,
    hasFileDialog: desk.options.chooseJobFile !== undefined,
  }
}

function jobFilesIn(folder: string): string[] {
  try {
    return readdirSync(folder)
      .filter((name) => name.endsWith(jobFileExtension))
      .map((name) => path.join(folder, name))
  } catch {
    // Not made yet, or not ours to read.
    return []
  }
}

function shelfEntry(jobPath: string): ShelfEntry | null {
  try {
    const { mtime, size } = statSync(jobPath)
    return {
      path: jobPath,
      fileName: path.basename(jobPath, jobFileExtension),
      folder: path.dirname(jobPath),
      modifiedAt: mtime.toISOString(),
      bytes: size,
    }
  } catch {
    // Gone between listing and looking.
    return null
  }
}

/** A path in the jobs folder that no file has: "Harrow Street Clinic", "Harrow Street Clinic 2" and so on. */
function freePath(folder: string, name: string): string {
  mkdirSync(folder, { recursive: true })
  const base = fileNameForJob(name)
  for (let number = 1; ; number += 1) {
    const candidate = path.join(folder, `${number === 1 ? base : `${base} ${number}`}${jobFileExtension}`)
    if (!existsSync(candidate)) return candidate
  }
}

/** A free path in the jobs folder, or why nothing can be made there. */
export function placeForJob(desk: Desk, name: string): Answer<string> {
  const { jobsFolder } = desk.options
  try {
    return done(freePath(jobsFolder, name))
  } catch (error) {
    if (!(error instanceof Error && 'code' in error)) throw error
    return refused('no-jobs-folder', `New jobs go into the folder ${jobsFolder}, and it cannot be written.`)
  }
}

/** A new job: itself, one building with one level, and the parts and typicals that come with the program. */
export function newJobRecords(options: Pick<ProgramOptions, 'newId' | 'now' | 'who'>, name: string): Library {
  const { newId, now, who } = options
  const job: Job = {
    id: asId<'job'>(newId()),
    name,
    number: null,
    client: null,
    address: null,
    preparedBy: who,
    units: 'imperial',
    dateForm: 'iso',
    buildingCode: null,
    loadingLimitPercent: 80,
    scheduleIssue: null,
    scheduleDate: null,
    notes: null,
    createdAt: now(),
  }
  const buildingId = asId<'building'>(newId())
  const library = readLibrary(readFileSync(partsLibrary, 'utf8'))
  return {
    ...library,
    job: [job],
    building: [
      { id: buildingId, name: 'Main building', position: 0, address: null, sourceId: null, notes: null },
    ],
    level: [
      {
        id: asId<'level'>(newId()),
        buildingId,
        name: 'Level 1',
        position: 0,
        elevationMetres: null,
        sourceId: null,
      },
    ],
  }
}

function makeJob(desk: Desk, name: string): Answer<JobState> {
  if (name.trim() === '') return refused('not-possible', 'A job needs a name. Nothing was made.')
  const place = placeForJob(desk, name)
  if (!place.ok) return place
  const made = makeJobFile(place.value, newJobRecords(desk.options, name.trim()), storeOptions(desk))
  if (!made.ok) return fromStore(made)
  made.file.close()
  return openAt(desk, place.value, false)
}

/** Opens a fresh copy of the demo job; an earlier copy keeps whatever was done to it. */
export function openDemo(desk: Desk): Answer<JobState> {
  const place = placeForJob(desk, 'Harrow Street Clinic')
  if (!place.ok) return place
  const made = makeJobFromTwin(place.value, readFileSync(demoTwin, 'utf8'), storeOptions(desk))
  if (!made.ok) return fromStore(made)
  made.file.close()
  return openAt(desk, place.value, false)
}
