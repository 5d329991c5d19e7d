import type { ForeignKind } from './problems.ts'

/** What the bytes are, whatever the file is called. */
export type Recognised =
  | { readonly form: 'empty' }
  | { readonly form: 'zip' }
  | { readonly form: 'encrypted' }
  | { readonly form: 'model' }
  | { readonly form: 'text' }
  | { readonly form: 'foreign'; readonly kind: ForeignKind }

// First bytes of a compound file: [MS-CFB] 2.2.
const OLE_SIGNATURE = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]
const HEAD_BYTES = 4096

function startsWith(bytes: Uint8Array, signature: readonly number[]): boolean {
  return signature.every((byte, index) => bytes[index] === byte)
}

/** Names in a compound file are UTF-16; a plain search is enough to tell its kinds apart. */
function oleKind(bytes: Uint8Array): Recognised {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const names = (name: string): boolean => buffer.includes(Buffer.from(name, 'utf16le'))
  if (names('EncryptedPackage') || names('EncryptionInfo')) return { form: 'encrypted' }
  if (names('Workbook') || names('Book')) return { form: 'foreign', kind: 'old-workbook' }
  return { form: 'foreign', kind: 'ole' }
}

function hasMark(bytes: Uint8Array): boolean {
  return (
    startsWith(bytes, [0xef, 0xbb, 0xbf]) ||
    startsWith(bytes, [0xff, 0xfe]) ||
    startsWith(bytes, [0xfe, 0xff])
  )
}

/** UTF-16 without a byte order mark: Latin text has a zero in every other byte. */
export function looksLikeUtf16(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const length = Math.min(bytes.length, HEAD_BYTES) & ~1
  if (length < 8) return null
  let evenZeros = 0
  let oddZeros = 0
  for (let index = 0; index < length; index += 2) {
    if (bytes[index] === 0) evenZeros++
    if (bytes[index + 1] === 0) oddZeros++
  }
  const pairs = length / 2
  if (oddZeros > pairs * 0.7 && evenZeros < pairs * 0.05) return 'utf-16le'
  if (evenZeros > pairs * 0.7 && oddZeros < pairs * 0.05) return 'utf-16be'
  return null
}

function looksBinary(head: Uint8Array): boolean {
  let odd = 0
  for (const byte of head) {
    if (byte === 0) return true
    if (byte < 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d && byte !== 0x0c && byte !== 0x1a)
      odd++
  }
  return odd > head.length * 0.02
}

function isBlank(bytes: Uint8Array): boolean {
  const from = startsWith(bytes, [0xef, 0xbb, 0xbf]) ? 3 : hasMark(bytes) ? 2 : 0
  for (let index = from; index < bytes.length; index++) {
    const byte = bytes[index] ?? 0
    if (byte !== 0 && byte !== 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d) return false
  }
  return true
}

/** Says what bytes are by their content alone. Looks at the head only, except for compound files and blanks. */
export function recognise(bytes: Uint8Array): Recognised {
  if (isBlank(bytes)) return { form: 'empty' }
  if (startsWith(bytes, [0x50, 0x4b, 0x03, 0x04]) || startsWith(bytes, [0x50, 0x4b, 0x05, 0x06]))
    return { form: 'zip' }
  if (startsWith(bytes, OLE_SIGNATURE)) return oleKind(bytes)
  if (startsWith(bytes, [0x25, 0x50, 0x44, 0x46])) return { form: 'foreign', kind: 'pdf' }
  const wide =
    startsWith(bytes, [0xff, 0xfe]) || startsWith(bytes, [0xfe, 0xff]) || looksLikeUtf16(bytes) !== null
  const head = bytes.subarray(0, HEAD_BYTES)
  if (wide) return { form: 'text' }
  if (looksBinary(head)) return { form: 'foreign', kind: 'binary' }
  const text = Buffer.from(head)
    .toString('latin1')
    .replace(/^\u00ef\u00bb\u00bf/, '')
    .trimStart()
  if (/^(\/\*[\s\S]*?\*\/\s*)*ISO-10303-21\s*;/i.test(text)) return { form: 'model' }
  if (/^<(!doctype html|html|head|body|table|meta|style|div)\b/i.test(text))
    return { form: 'foreign', kind: 'web-page' }
  if (/^<\?xml\b/i.test(text) || /^<[a-z][\w:.-]*[\s>]/i.test(text)) {
    if (/ifcxml|<ifc/i.test(text)) return { form: 'foreign', kind: 'xml-model' }
    return { form: 'foreign', kind: /<(html|table)\b/i.test(text) ? 'web-page' : 'xml' }
  }
  if (/^[{[]\s*["{[]/.test(text) && /":/.test(text)) return { form: 'foreign', kind: 'json' }
  return { form: 'text' }
}
