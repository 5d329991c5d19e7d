// What is wrong with a value that should have a shape, in words.
import type { z } from 'zod'

/** The first thing wrong: in which field (null for the whole), and what was expected. */
export interface Fault {
  readonly field: string | null
  readonly words: string
}

export type ShapeRead<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly fault: Fault }

/** Takes a value that has the shape, as a fresh copy, or says the first thing wrong with it. */
export function readShape<T>(schema: z.ZodType<T>, value: unknown): ShapeRead<T> {
  // The validator would leave a key named __proto__ out without a word.
  if (holdsPrototypeKey(value))
    return { ok: false, fault: { field: '__proto__', words: 'no field may have this name' } }
  const read = schema.safeParse(value)
  if (read.success) return { ok: true, value: read.data }
  const issue = read.error.issues[0] as z.core.$ZodIssue
  const field = issue.code === 'unrecognized_keys' ? (issue.keys[0] ?? null) : pathOf(issue)
  return { ok: false, fault: { field, words: issueWords(issue, at(value, issue.path)) } }
}

const pathOf = (issue: z.core.$ZodIssue): string | null =>
  issue.path.length === 0 ? null : issue.path.map(String).join('.')

const at = (value: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (each, key) =>
      typeof each === 'object' && each !== null ? (each as Record<PropertyKey, unknown>)[key] : undefined,
    value,
  )

const typeWords: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'an object with named fields',
  record: 'an object with named fields',
  array: 'a list',
}

function found(value: unknown): string {
  if (value === undefined) return 'nothing'
  if (value === null) return 'null'
  if (Array.isArray(value)) return 'a list'
  return typeWords[typeof value] ?? `a ${typeof value}`
}

function issueWords(issue: z.core.$ZodIssue, value: unknown): string {
  switch (issue.code) {
    case 'invalid_type':
      return `expected ${typeWords[issue.expected] ?? issue.expected}, found ${found(value)}`
    case 'invalid_value':
      return `expected ${issue.values.length > 1 ? 'one of ' : ''}${issue.values.map(String).join(', ')}, found ${shown(value)}`
    case 'too_big':
      return issue.origin === 'string'
        ? `longer than ${issue.maximum} characters`
        : `more than ${issue.maximum}`
    case 'too_small':
      return issue.origin === 'string'
        ? `expected at least ${issue.minimum} character`
        : `less than ${issue.minimum}`
    case 'invalid_format':
      return `expected ${formatWords(issue)}, found ${shown(value)}`
    case 'unrecognized_keys':
      return 'there is no such field'
    case 'custom':
      return issue.message
    default:
      return `not as expected, found ${shown(value)}`
  }
}

function formatWords(issue: z.core.$ZodIssueInvalidStringFormat): string {
  const pattern = issue.pattern ?? ''
  if (pattern.includes('T\\d')) return 'a time such as 2026-01-31T08:30:00Z'
  if (pattern.includes('\\d\\d\\d\\d-') || pattern.includes('\\d{4}-')) return 'a day such as 2026-01-31'
  return issue.format === 'regex' ? `text of the form ${pattern}` : issue.format
}

const shown = (value: unknown): string =>
  typeof value === 'string' ? `"${value.length > 40 ? `${value.slice(0, 40)}…` : value}"` : found(value)

function holdsPrototypeKey(value: unknown, depth = 0): boolean {
  if (typeof value !== 'object' || value === null || depth > 8) return false
  if (Object.hasOwn(value, '__proto__')) return true
  return Object.values(value).some((each) => holdsPrototypeKey(each, depth + 1))
}
