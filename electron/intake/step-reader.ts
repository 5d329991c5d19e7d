// A reader of ISO 10303-21 clear text (STEP physical files): one pass over the bytes finds where records stand; a
// record is taken apart only when somebody asks for it.

import { decodeStepText } from './step-text.ts'

export type StepValue =
  | { readonly kind: 'missing' }
  | { readonly kind: 'derived' }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'word'; readonly word: string }
  | { readonly kind: 'bits'; readonly hex: string }
  | { readonly kind: 'reference'; readonly id: number }
  | { readonly kind: 'list'; readonly items: readonly StepValue[] }
  | { readonly kind: 'typed'; readonly type: string; readonly value: StepValue }

export interface Counted {
  count: number
  firstRecord: number
}

export interface StepFile {
  /** First name in FILE_SCHEMA as written; null when there is none. */
  readonly schema: string | null
  /** Whether END-ISO-10303-21 was reached: without it, records may be missing. */
  readonly ended: boolean
  readonly recordCount: number
  readonly lastRecord: number | null
  /** Numbers of records of a type (upper case), in file order. */
  readonly recordsOf: (type: string) => readonly number[]
  readonly typeOf: (id: number) => string | null
  /** The attributes of a wanted record; null when there is no such record or it is broken. */
  readonly attributesOf: (id: number) => readonly StepValue[] | null
  readonly repeated: Counted
  readonly unreadable: Counted
  readonly badEscapes: Counted
  readonly rawBytes: Counted
}

const MISSING: StepValue = { kind: 'missing' }
const DERIVED: StepValue = { kind: 'derived' }
const MOST_DEPTH = 64
/** Record numbers above this are not checked for repeats among unwanted types; it bounds the memory to 8 MB. */
const MOST_CHECKED_ID = 64 * 1024 * 1024

const QUOTE = 0x27
const SEMICOLON = 0x3b
const HASH = 0x23
const OPEN = 0x28
const CLOSE = 0x29
const COMMA = 0x2c
const SLASH = 0x2f
const STAR = 0x2a
const EQUALS = 0x3d
const NEWLINE = 0x0a
const DOT = 0x2e

function isDigit(byte: number): boolean {
  return byte >= 0x30 && byte <= 0x39
}

/** Letters, digits, "_" and "!", of either case; "-" as in ISO-10303-21. */
function isWordByte(byte: number): boolean {
  return (
    (byte >= 0x41 && byte <= 0x5a) ||
    (byte >= 0x61 && byte <= 0x7a) ||
    isDigit(byte) ||
    byte === 0x5f ||
    byte === 0x21 ||
    byte === 0x2d
  )
}

class BrokenRecord extends Error {}

interface Scanner {
  readonly bytes: Uint8Array
  at: number
}

function skipBlank(scanner: Scanner): void {
  const { bytes } = scanner
  for (;;) {
    const byte = bytes[scanner.at]
    if (byte === undefined) return
    if (byte <= 0x20) scanner.at++
    else if (byte === SLASH && bytes[scanner.at + 1] === STAR) {
      const end = findCommentEnd(bytes, scanner.at + 2)
      scanner.at = end < 0 ? bytes.length : end
    } else return
  }
}

/** Index behind the end of a comment, -1 when it is never closed. */
function findCommentEnd(bytes: Uint8Array, from: number): number {
  for (let star = bytes.indexOf(STAR, from); star >= 0; star = bytes.indexOf(STAR, star + 1)) {
    if (bytes[star + 1] === SLASH) return star + 2
  }
  return -1
}

/** Whether a line break at `newline` is followed by the start of a record: then an open quotation mark was a slip. */
function startsRecord(bytes: Uint8Array, newline: number): boolean {
  let at = newline + 1
  if (bytes[at] !== HASH) return false
  at++
  const digits = at
  while (isDigit(bytes[at] ?? 0)) at++
  if (at === digits) return false
  while (bytes[at] === 0x20) at++
  return bytes[at] === EQUALS
}

/** Moves behind the semicolon that ends a record. 'cut' when the file ends first, 'broken' when a text is never closed. */
function skipRecord(scanner: Scanner): 'ended' | 'cut' | 'broken' {
  const { bytes } = scanner
  let at = scanner.at
  const length = bytes.length
  while (at < length) {
    const byte = bytes[at]
    if (byte === SEMICOLON) {
      scanner.at = at + 1
      return 'ended'
    }
    if (byte === QUOTE) {
      const close = bytes.indexOf(QUOTE, at + 1)
      const newline = bytes.indexOf(NEWLINE, at + 1)
      if (newline >= 0 && (close < 0 || newline < close) && startsRecord(bytes, newline)) {
        scanner.at = newline + 1
        return 'broken'
      }
      if (close < 0) break
      at = close + 1
    } else if (byte === SLASH && bytes[at + 1] === STAR) {
      const end = findCommentEnd(bytes, at + 2)
      if (end < 0) break
      at = end
    } else at++
  }
  scanner.at = length
  return 'cut'
}

function readDigits(scanner: Scanner): number | null {
  const start = scanner.at
  let value = 0
  while (isDigit(scanner.bytes[scanner.at] ?? 0)) {
    value = value * 10 + ((scanner.bytes[scanner.at] ?? 0) - 0x30)
    scanner.at++
  }
  return scanner.at === start || value > Number.MAX_SAFE_INTEGER ? null : value
}

function latin(bytes: Uint8Array, start: number, end: number): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset + start, end - start).toString('latin1')
}

function readWord(scanner: Scanner): string {
  const start = scanner.at
  while (isWordByte(scanner.bytes[scanner.at] ?? 0)) scanner.at++
  return latin(scanner.bytes, start, scanner.at).toUpperCase()
}

interface Notes {
  badEscape: boolean
  rawBytes: boolean
}

function readText(scanner: Scanner, notes: Notes): StepValue {
  const { bytes } = scanner
  const start = scanner.at + 1
  let close = bytes.indexOf(QUOTE, start)
  while (close >= 0 && bytes[close + 1] === QUOTE) close = bytes.indexOf(QUOTE, close + 2)
  if (close < 0) throw new BrokenRecord('text not closed')
  scanner.at = close + 1
  const { text, doubt } = decodeStepText(bytes, start, close)
  if (doubt === 'bad-escape') notes.badEscape = true
  if (doubt === 'raw-bytes') notes.rawBytes = true
  return { kind: 'text', text }
}

function readNumber(scanner: Scanner): StepValue {
  const start = scanner.at
  for (;;) {
    const byte = scanner.bytes[scanner.at] ?? 0
    const sign = byte === 0x2b || byte === 0x2d
    if (!isDigit(byte) && byte !== DOT && !sign && byte !== 0x45 && byte !== 0x65) break
    scanner.at++
  }
  const value = Number(latin(scanner.bytes, start, scanner.at))
  if (scanner.at === start || Number.isNaN(value)) throw new BrokenRecord('not a number')
  return { kind: 'number', value }
}

/** An enumeration such as .ELEMENT. or a hexadecimal string in double quotation marks: everything up to its twin. */
function readUpTo(scanner: Scanner, twin: number): string {
  const start = scanner.at + 1
  const end = scanner.bytes.indexOf(twin, start)
  if (end < 0 || end - start > 4096) throw new BrokenRecord('word not closed')
  scanner.at = end + 1
  return latin(scanner.bytes, start, end)
}

/** A list, from behind its opening bracket to behind its closing one. */
function readItems(scanner: Scanner, notes: Notes, depth: number): StepValue[] {
  const items: StepValue[] = []
  skipBlank(scanner)
  if (scanner.bytes[scanner.at] === CLOSE) {
    scanner.at++
    return items
  }
  for (;;) {
    items.push(readValue(scanner, notes, depth))
    skipBlank(scanner)
    const byte = scanner.bytes[scanner.at]
    scanner.at++
    if (byte === CLOSE) return items
    if (byte !== COMMA) throw new BrokenRecord('comma expected')
  }
}

function readValue(scanner: Scanner, notes: Notes, depth: number): StepValue {
  if (depth > MOST_DEPTH) throw new BrokenRecord('nested too deep')
  skipBlank(scanner)
  const byte = scanner.bytes[scanner.at] ?? 0
  switch (byte) {
    case 0x24:
      scanner.at++
      return MISSING
    case STAR:
      scanner.at++
      return DERIVED
    case QUOTE:
      return readText(scanner, notes)
    case HASH: {
      scanner.at++
      const id = readDigits(scanner)
      if (id === null) throw new BrokenRecord('reference without number')
      return { kind: 'reference', id }
    }
    case OPEN:
      scanner.at++
      return { kind: 'list', items: readItems(scanner, notes, depth + 1) }
    case DOT:
      return { kind: 'word', word: readUpTo(scanner, DOT).toUpperCase() }
    case 0x22:
      return { kind: 'bits', hex: readUpTo(scanner, 0x22) }
  }
  if (isDigit(byte) || byte === 0x2b || byte === 0x2d) return readNumber(scanner)
  const type = readWord(scanner)
  if (type === '') throw new BrokenRecord('value expected')
  skipBlank(scanner)
  if (scanner.bytes[scanner.at] !== OPEN) throw new BrokenRecord('bracket expected')
  scanner.at++
  const items = readItems(scanner, notes, depth + 1)
  return { kind: 'typed', type, value: items[0] ?? MISSING }
}

function noneYet(): Counted {
  return { count: 0, firstRecord: 0 }
}

function note(counted: Counted, id: number): void {
  if (counted.count === 0) counted.firstRecord = id
  counted.count++
}

/** One bit for each record number met, growing as needed. */
function makeSeen(): (id: number) => boolean {
  let bits = new Uint8Array(64 * 1024)
  return (id) => {
    if (id >= MOST_CHECKED_ID) return false
    const place = id >> 3
    if (place >= bits.length) {
      const grown = new Uint8Array(Math.max(place + 1, bits.length * 2))
      grown.set(bits)
      bits = grown
    }
    const mask = 1 << (id & 7)
    const met = ((bits[place] ?? 0) & mask) !== 0
    bits[place] = (bits[place] ?? 0) | mask
    return met
  }
}

function firstText(values: readonly StepValue[]): string | null {
  for (const value of values) {
    if (value.kind === 'text') return value.text
    if (value.kind === 'list') {
      const inner = firstText(value.items)
      if (inner !== null) return inner
    }
  }
  return null
}

/**
 * Indexes the records of the wanted types (upper case). Never throws on bad bytes: broken records are counted and left
 * out, the first of two records with one number is kept. The caller decides what to make of `ended` and `schema`.
 */
export function indexStep(bytes: Uint8Array, wantedTypes: ReadonlySet<string>): StepFile {
  const scanner: Scanner = { bytes, at: 0 }
  const places = new Map<number, number>()
  const types = new Map<number, string>()
  const byType = new Map<string, number[]>()
  const wanted = new Map<string, string>()
  for (const type of wantedTypes) wanted.set(type, type)
  const seen = makeSeen()
  const repeated = noneYet()
  const unreadable = noneYet()
  const badEscapes = noneYet()
  const rawBytes = noneYet()
  let schema: string | null = null
  let ended = false
  let recordCount = 0
  let lastRecord: number | null = null

  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) scanner.at = 3

  const readRecord = (): void => {
    scanner.at++
    const id = readDigits(scanner)
    skipBlank(scanner)
    if (id === null || bytes[scanner.at] !== EQUALS) {
      if (skipRecord(scanner) !== 'cut') note(unreadable, id ?? lastRecord ?? 0)
      return
    }
    scanner.at++
    skipBlank(scanner)
    const type = readWord(scanner)
    skipBlank(scanner)
    const place = scanner.at
    const end = skipRecord(scanner)
    if (end === 'cut') return
    recordCount++
    lastRecord = id
    if (end === 'broken' || bytes[place] !== OPEN) {
      note(unreadable, id)
      return
    }
    if (seen(id) || places.has(id)) {
      note(repeated, id)
      return
    }
    // The set's own string, not the slice: a slice per record would fill the memory.
    const known = wanted.get(type)
    if (known === undefined) return
    places.set(id, place + 1)
    types.set(id, known)
    const list = byType.get(known)
    if (list === undefined) byType.set(known, [id])
    else list.push(id)
  }

  while (!ended) {
    skipBlank(scanner)
    const byte = bytes[scanner.at]
    if (byte === undefined) break
    if (byte === HASH) {
      readRecord()
      continue
    }
    const word = readWord(scanner)
    if (word === 'END-ISO-10303-21') {
      ended = true
      break
    }
    if (word === 'FILE_SCHEMA') {
      skipBlank(scanner)
      if (bytes[scanner.at] === OPEN) {
        try {
          schema = firstText(
            readItems({ bytes, at: scanner.at + 1 }, { badEscape: false, rawBytes: false }, 0),
          )
        } catch (error) {
          if (!(error instanceof BrokenRecord)) throw error
        }
      }
    }
    if (word === '') {
      scanner.at++
      if (byte === SEMICOLON) continue
      note(unreadable, lastRecord ?? 0)
    }
    if (skipRecord(scanner) === 'cut') break
  }

  // A record may be asked for often; its doubts count once.
  const doubtful = new Set<number>()
  const attributesOf = (id: number): readonly StepValue[] | null => {
    const place = places.get(id)
    if (place === undefined) return null
    const notes: Notes = { badEscape: false, rawBytes: false }
    try {
      const values = readItems({ bytes, at: place }, notes, 0)
      if ((notes.badEscape || notes.rawBytes) && !doubtful.has(id)) {
        doubtful.add(id)
        if (notes.badEscape) note(badEscapes, id)
        if (notes.rawBytes) note(rawBytes, id)
      }
      return values
    } catch (error) {
      if (!(error instanceof BrokenRecord)) throw error
      note(unreadable, id)
      places.delete(id)
      return null
    }
  }

  return {
    schema,
    ended,
    recordCount,
    lastRecord,
    recordsOf: (type) => byType.get(type) ?? [],
    typeOf: (id) => types.get(id) ?? null,
    attributesOf,
    repeated,
    unreadable,
    badEscapes,
    rawBytes,
  }
}
