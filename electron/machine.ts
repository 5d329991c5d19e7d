// What the program takes from the machine it runs on: its folders, the person, the clock, chance.
import { randomUUID } from 'node:crypto'
import { existsSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Answering } from '../core/contract/index.ts'

/** What `openProgram` of calls/ is given. */
export interface ProgramOptions {
  /** The program's own folder: window state, column choices, backups. */
  readonly home: string
  /** Where new jobs go. */
  readonly jobsFolder: string
  readonly who: string
  /** ISO 8601, UTC. */
  readonly now: () => string
  readonly newId: () => string
  readonly readOnly?: boolean
  /** A job file asked for on the command line or by a double click. */
  readonly openPath?: string
  /** Asks the person for a job file, where the machine has a dialog for that; null when nothing was chosen. */
  readonly chooseJobFile?: () => Promise<string | null>
  /** Tests check what is answered as well as what is asked. */
  readonly checkAnswers?: boolean
}

/** A running program: answers calls until it is closed. */
export interface Program {
  readonly answer: Answering
  readonly close: () => Promise<void> | void
}

/** The machine, as far as folders depend on it. */
export interface Machine {
  readonly platform: NodeJS.Platform
  readonly environment: Readonly<Record<string, string | undefined>>
  readonly personFolder: string
}

export const thisMachine = (): Machine => ({
  platform: process.platform,
  environment: process.env,
  personFolder: os.homedir(),
})

/**
 * The program's own folder: LINTELBOOK_HOME, else where the platform keeps such things.
 * Sources: XDG Base Directory Specification (relative XDG_DATA_HOME is to be ignored); Apple, File System Programming
 * Guide, "Application Support"; Microsoft, KNOWNFOLDERID, FOLDERID_RoamingAppData.
 */
export function homeFolder({ platform, environment, personFolder }: Machine): string {
  const own = environment['LINTELBOOK_HOME']
  if (own) return path.resolve(own)
  if (platform === 'darwin') return path.join(personFolder, 'Library', 'Application Support', 'Lintelbook')
  if (platform === 'win32')
    return path.join(environment['APPDATA'] || path.join(personFolder, 'AppData', 'Roaming'), 'Lintelbook')
  const shared = environment['XDG_DATA_HOME']
  const data = shared && path.isAbsolute(shared) ? shared : path.join(personFolder, '.local', 'share')
  return path.join(data, 'lintelbook')
}

/** Where people find their jobs: in Documents where there is such a folder, else in the program's own. */
export function jobsFolder(machine: Machine, exists: (folder: string) => boolean = existsSync): string {
  const documents = path.join(machine.personFolder, 'Documents')
  return machine.environment['LINTELBOOK_HOME'] || !exists(documents)
    ? path.join(homeFolder(machine), 'jobs')
    : path.join(documents, 'Lintelbook')
}

/** The name the machine knows the person by; some accounts have none. */
export function personName(): string {
  try {
    return os.userInfo().username
  } catch {
    return 'unknown'
  }
}

/** Everything `openProgram` needs on this machine. */
export function programOptions(machine: Machine, openPath: string | null): ProgramOptions {
  return {
    home: homeFolder(machine),
    jobsFolder: jobsFolder(machine),
    who: personName(),
    now: () => new Date().toISOString(),
    newId: randomUUID,
    ...(openPath === null ? {} : { openPath }),
  }
}
