// What every verb of the command line is: its words, its options, and what it does with them.
import type { ParseArgsOptionsConfig } from 'node:util'
import type { ProgramOptions } from '../machine.ts'

/** 0 done, 1 refused or not sound, 2 the command itself was not understood. */
export type ExitCode = 0 | 1 | 2

export interface VerbRun {
  readonly positionals: readonly string[]
  readonly values: Readonly<Record<string, string | boolean | undefined>>
  readonly machine: ProgramOptions
  /** Results. */
  readonly say: (text: string) => void
  /** Sentences about trouble. */
  readonly complain: (sentence: string) => void
}

export interface Verb {
  /** In one line, for the list of verbs. */
  readonly about: string
  readonly help: string
  readonly options: ParseArgsOptionsConfig
  /** Least and most words after the verb. */
  readonly words: readonly [number, number]
  readonly run: (run: VerbRun) => Promise<ExitCode>
}

export const refusedWith = (run: VerbRun, sentence: string): ExitCode => {
  run.complain(sentence)
  return 1
}

export const json = (value: unknown): string => JSON.stringify(value, null, 2)

/** The text of an option, or null. */
export const textOf = (run: VerbRun, name: string): string | null => {
  const value = run.values[name]
  return typeof value === 'string' ? value : null
}

/** One of a few words, null when it is another. */
export function oneOf<Word extends string>(value: string, words: readonly Word[]): Word | null {
  return words.find((word) => word === value) ?? null
}
