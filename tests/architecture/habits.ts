// How the code reads, as far as a pattern can tell. Every guard looks at code without comments, strings and patterns.
import path from 'node:path'
import { codeOf } from './source-text.ts'
import type { Guard } from './layers.ts'

const pureFolders = /^(core|renderer\/paper|renderer\/drawing)\//
const drawnFolders = /^renderer\/(paper|drawing)\//

interface Habit {
  readonly where: RegExp
  readonly never: RegExp
  readonly sentence: string
}

const lineOf = (code: string, index: number) => code.slice(0, index).split('\n').length

const habitGuard =
  ({ where, never, sentence }: Habit): Guard =>
  (file, text) => {
    if (!where.test(file)) return []
    const code = codeOf(text, 'emptied')
    return [...code.matchAll(never)].map(
      ({ 0: found, index }) =>
        `${file}: ${found.trim()} ${sentence} (line ${lineOf(code, index)} of its code)`,
    )
  }

export const clockGuard = habitGuard({
  where: pureFolders,
  never:
    /\bDate\s*\.\s*now\b|\bnew\s+Date\b(?:\s*\(\s*\)|(?!\s*[(.]))|(?<!new\s)(?<![.\w])Date\s*\(|\bperformance\s*\.|\bTemporal\s*\.\s*Now\b|\b(?:set|clear)(?:Timeout|Interval)\b|\bprocess\s*\.\s*hrtime\b/g,
  sentence: 'reads the clock; take the time as an argument',
})

export const randomnessGuard = habitGuard({
  where: pureFolders,
  never: /\bMath\s*\.\s*random\b|\brandomUUID\b|\brandomBytes\b|\brandomInt\b|\bgetRandomValues\b/g,
  sentence: 'is chance; take the id as an argument',
})

export const domGuard = habitGuard({
  where: drawnFolders,
  never:
    /\b(?:window|navigator|localStorage|sessionStorage)\s*\.|\bdocument\s*\.\s*(?:create|query|getElement|body|documentElement|addEvent)\w*|\b(?:HTML|SVG)\w*Element\b|\bglobalThis\s*\.\s*document\b/g,
  sentence: 'knows a window; paper and drawings know none',
})

const ourCode = /^(core|electron|renderer|tests)\//

export const anyGuard = habitGuard({
  where: ourCode,
  never:
    /(?:[:|&<=]|=>|\bas|\bextends|\bkeyof)\s*any\b(?!\s*[:(.'"`\w])(?:\s*\[\s*\])*|,\s*any\s*(?=[>,\]])/g,
  sentence: 'switches the compiler off; use unknown, or say what it is',
})

export const defaultExportGuard = habitGuard({
  where: ourCode,
  never: /\bexport\s+default\b|\bexport\s*\{[^}]*\bas\s+default\b/g,
  sentence: 'has no name of its own; export by name',
})

export const enumGuard = habitGuard({
  where: ourCode,
  never: /\b(?:const\s+)?enum\s+\w+\s*\{/g,
  sentence: 'is not plain TypeScript; use a union of words',
})

/** File names are whole words in kebab-case, with the tests' kind in front of the ending. */
export const fileNameGuard: Guard = (file) =>
  /^[a-z0-9]+(-[a-z0-9]+)*(\.(test|browser|process|d))*\.(ts|tsx|mjs|css|html|json)$/.test(
    path.posix.basename(file),
  )
    ? []
    : [`${file}: file names are words in kebab-case`]

// Written in two pieces, so that this file passes its own guard.
const pathsOfOneMachine = new RegExp(
  ['/wo' + 'rk/(main|shared)', '/ho' + 'me/\\w+/', 'C:\\\\+Us' + 'ers\\\\'].join('|'),
  'g',
)

/** No path of one person's machine. Looks at comments and strings as well. */
export const machinePathGuard: Guard = (file, text) =>
  [...text.matchAll(pathsOfOneMachine)].map(({ 0: found }) => `${file}: ${found} is a path of one machine`)

const houseFolders = new Set(['core', 'electron', 'renderer', 'migrations', 'tests', 'fixtures'])
/** Made by tools and ignored by git, or insisted on by them. */
const toolFolders = new Set(['node_modules', 'dist', '.git', '.ci', '.cache'])

/** Nobody outside the list of the house gets a top-level folder. */
export const topLevelGuard = (folders: readonly string[]): readonly string[] =>
  folders
    .filter((folder) => !houseFolders.has(folder) && !toolFolders.has(folder))
    .map((folder) => `${folder}/ is no part of the house`)

export const habitGuards: readonly Guard[] = [
  clockGuard,
  randomnessGuard,
  domGuard,
  anyGuard,
  defaultExportGuard,
  enumGuard,
  fileNameGuard,
  machinePathGuard,
]
