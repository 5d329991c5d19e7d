// Strings of ISO 10303-21 (clause 6.4.3 of its third edition), from bytes to text.

export type StepTextDoubt = 'bad-escape' | 'raw-bytes'

export interface StepText {
  readonly text: string
  readonly doubt: StepTextDoubt | null
}

const BACKSLASH = 0x5c
const APOSTROPHE = 0x27
const STRICT_UTF8 = new TextDecoder('utf-8', { fatal: true })
const WESTERN = new TextDecoder('windows-1252')
type Decoder = InstanceType<typeof TextDecoder>
const codePages = new Map<string, Decoder>()

/** \PA\ to \PI\ name the parts 1 to 9 of ISO 8859. */
function codePage(letter: string): Decoder {
  let decoder = codePages.get(letter)
  if (decoder === undefined) {
    const part = letter.charCodeAt(0) - 0x40
    // Label iso-8859-1 means Windows-1252 to a TextDecoder; both agree from A0 up, where \S\ points.
    decoder = new TextDecoder(`iso-8859-${part}`)
    codePages.set(letter, decoder)
  }
  return decoder
}

function isPlain(bytes: Uint8Array, start: number, end: number): boolean {
  for (let index = start; index < end; index++) {
    const byte = bytes[index] ?? 0
    if (byte < 0x20 || byte > 0x7e || byte === BACKSLASH || byte === APOSTROPHE) return false
  }
  return true
}

function latin(bytes: Uint8Array, start: number, end: number): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset + start, end - start).toString('latin1')
}

/** Bytes from 80 up belong in no Part 21 string before edition 3, but real files have them. */
function decodeRaw(bytes: Uint8Array): StepText {
  try {
    return { text: STRICT_UTF8.decode(bytes), doubt: null }
  } catch {
    return { text: WESTERN.decode(bytes), doubt: 'raw-bytes' }
  }
}

/** Code points of \X2\ (4 digits each) and \X4\ (8 digits each); null when a group is broken. */
function wideText(hex: string, digits: 4 | 8): string | null {
  if (hex.length === 0 || hex.length % digits !== 0 || !/^[0-9a-f]+$/i.test(hex)) return null
  let text = ''
  for (let index = 0; index < hex.length; index += digits) {
    const code = Number.parseInt(hex.slice(index, index + digits), 16)
    if (code > 0x10ffff) return null
    text += digits === 4 ? String.fromCharCode(code) : String.fromCodePoint(code)
  }
  return text.toWellFormed()
}

interface Escape {
  readonly text: string
  readonly length: number
  readonly page?: string
}

/** One escape at the start of `rest`; null when it is none that the standard knows. Hex digits of either case are taken. */
function readEscape(rest: string, page: string): Escape | null {
  if (rest.startsWith('\\\\')) return { text: '\\', length: 2 }
  const short = /^\\X\\([0-9a-f]{2})/i.exec(rest)
  if (short !== null) return { text: String.fromCharCode(Number.parseInt(short[1] ?? '', 16)), length: 5 }
  const wide = /^\\X([24])\\([0-9a-f]*)\\X0\\/i.exec(rest)
  if (wide !== null) {
    const text = wideText(wide[2] ?? '', wide[1] === '2' ? 4 : 8)
    return text === null ? null : { text, length: wide[0].length }
  }
  const shifted = /^\\S\\([\u0020-\u007e])/.exec(rest)
  if (shifted !== null) {
    const byte = (shifted[1] ?? ' ').charCodeAt(0) + 0x80
    return { text: codePage(page).decode(Uint8Array.of(byte)), length: 4 }
  }
  const chosen = /^\\P([A-I])\\/i.exec(rest)
  if (chosen !== null) return { text: '', length: 4, page: (chosen[1] ?? 'A').toUpperCase() }
  if (/^\\[NF]\\/i.test(rest)) return { text: '\n', length: 3 }
  return null
}

function decodeEscapes(raw: string): StepText {
  let text = ''
  let page = 'A'
  let doubt: StepTextDoubt | null = null
  let at = 0
  for (;;) {
    const next = raw.indexOf('\\', at)
    if (next < 0) return { text: text + raw.slice(at), doubt }
    text += raw.slice(at, next)
    const escape = readEscape(raw.slice(next, next + 4096), page)
    if (escape === null) {
      // A broken code stays as it was written: a person can still read the rest.
      text += '\\'
      doubt = 'bad-escape'
      at = next + 1
      continue
    }
    text += escape.text
    page = escape.page ?? page
    at = next + escape.length
  }
}

/** The text between two quotation marks, `start` to `end` without them. Never fails; what is broken is kept as written. */
export function decodeStepText(bytes: Uint8Array, start: number, end: number): StepText {
  if (isPlain(bytes, start, end)) return { text: latin(bytes, start, end), doubt: null }
  const raw = decodeRaw(bytes.subarray(start, end))
  const unquoted = raw.text.replaceAll("''", "'").replace(/[\r\n]/g, '')
  if (!unquoted.includes('\\')) return { text: unquoted, doubt: raw.doubt }
  const decoded = decodeEscapes(unquoted)
  return { text: decoded.text, doubt: decoded.doubt ?? raw.doubt }
}
