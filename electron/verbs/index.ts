import { check } from './check.ts'
import { find } from './find.ts'
import { make } from './make.ts'
import { print } from './print.ts'
import { repair } from './repair.ts'
import { restore } from './restore.ts'
import { take } from './take.ts'
import type { Verb } from './verb.ts'

export const verbs: ReadonlyMap<string, Verb> = new Map(
  Object.entries({ make, take, print, check, find, restore, repair }),
)
export type { ExitCode, Verb, VerbRun } from './verb.ts'
