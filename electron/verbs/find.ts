import { statSync } from 'node:fs'
import path from 'node:path'
import { openLibrary, type LibraryState } from '../library/index.ts'
import { openJobFile } from '../store/index.ts'
import { json, type ExitCode, type Verb, type VerbRun } from './verb.ts'

interface Line {
  readonly job: string
  readonly path: string
  readonly kind: string
  readonly id: string
  readonly openingId: string | null
  readonly title: string
  readonly detail: string
  /** Words asked for that are nowhere in it. */
  readonly without: readonly string[]
}

interface Looked {
  readonly lines: readonly Line[]
  readonly code: ExitCode
}

export const find: Verb = {
  about: 'find marks, rooms, serials and notes across job files',
  help: `lintelbook find WORDS [FOLDER or JOB.lintelbook ...] [--json] [--most N]

Looks for marks, rooms, serials, parts, runs, points, notes, findings and visits, forgiving of case, blanks, dashes and
numbers in words. A folder is looked through with all that is in it and indexed, so that the next search is quick; no
job file is changed. Spelling is forgiven in folders only. Without a folder or a file, looks where new jobs go.
The exit code is 1 when nothing was found, or a folder or file could not be read.

Examples:
  lintelbook find "store room three"
  lintelbook find "north stair" jobs archive --most 5
  lintelbook find 2611-04 clinic.lintelbook --json`,
  options: { json: { type: 'boolean' }, most: { type: 'string' } },
  words: [1, Number.POSITIVE_INFINITY],
  run: async (run) => {
    const [words = '', ...named] = run.positionals
    const most = Number(run.values['most'] ?? 20)
    if (!Number.isInteger(most) || most < 1) {
      run.complain(`--most expects a whole number from 1, not ${String(run.values['most'])}.`)
      return 2
    }
    const places = named.length > 0 ? named : [run.machine.jobsFolder]
    const folders = places.filter((place) => isFolder(place) || named.length === 0)
    const inFiles = findInFiles(
      run,
      places.filter((place) => !folders.includes(place)),
      words,
      most,
    )
    const inFolders = await findInFolders(run, folders, words, most)
    const lines = [...inFiles.lines, ...inFolders.lines]
    if (run.values['json'] === true) run.say(json(lines))
    else for (const line of lines) run.say(lineText(line))
    if (lines.length === 0) run.complain(`Nothing found for "${words}".`)
    return lines.length === 0 ? 1 : inFiles.code === 0 ? inFolders.code : inFiles.code
  },
}

const isFolder = (place: string): boolean =>
  statSync(place, { throwIfNoEntry: false })?.isDirectory() ?? false

function lineText({ job, title, detail, without }: Line): string {
  const lacks = without.length === 0 ? '' : ` (without ${without.map((word) => `"${word}"`).join(', ')})`
  return `${job}: ${title}${detail === '' ? '' : `, ${detail}`}${lacks}`
}

/** Each file by itself, in the order they were named. */
function findInFiles(run: VerbRun, jobPaths: readonly string[], words: string, most: number): Looked {
  const { who, now } = run.machine
  const lines: Line[] = []
  let code: ExitCode = 0
  for (const jobPath of jobPaths) {
    const opened = openJobFile(path.resolve(jobPath), { who, now, readOnly: true })
    if (!opened.ok) {
      run.complain(opened.sentence)
      code = 1
      continue
    }
    const job = opened.file.data.job.name
    for (const { kind, id, openingId, title, detail } of opened.file.find(words, most))
      lines.push({ job, path: jobPath, kind, id, openingId, title, detail, without: [] })
    opened.file.close()
  }
  return { lines, code }
}

async function findInFolders(
  run: VerbRun,
  folders: readonly string[],
  words: string,
  most: number,
): Promise<Looked> {
  if (folders.length === 0) return { lines: [], code: 0 }
  const { home, now } = run.machine
  const library = openLibrary({ home, folders, now, log: () => {} })
  try {
    const code = complainOf(run, await library.refresh())
    let found = library.search(words, most)
    // Asking found the index damaged: it is being made again.
    if (library.state().refreshing) {
      await library.refresh()
      found = library.search(words, most)
    }
    const lines = found.map(({ jobName, jobPath, kind, id, openingId, title, detail, without }) => ({
      job: jobName,
      path: jobPath,
      kind,
      id,
      openingId,
      title,
      detail,
      without,
    }))
    return { lines, code }
  } finally {
    await library.close()
  }
}

/** What could not be read. A folder away keeps answering from what is indexed of it. */
function complainOf(run: VerbRun, { folders, files, trouble }: LibraryState): ExitCode {
  const away = folders.flatMap(({ sentence, awaySince, jobs }) =>
    sentence === null
      ? []
      : [
          `${sentence} Not reachable since ${awaySince ?? ''}${jobs === 0 ? '.' : '; what was indexed of it answers.'}`,
        ],
  )
  const sentences = [
    ...away,
    ...files.flatMap(({ sentence }) => sentence ?? []),
    ...(trouble === null ? [] : [trouble]),
  ]
  for (const sentence of sentences) run.complain(sentence)
  return sentences.length === 0 ? 0 : 1
}
