import { doubtSentence } from './problems.ts'
import { looksLikeUtf16 } from './recognise.ts'

function decodeWith(label: string, bytes: Uint8Array): string {
  return new TextDecoder(label).decode(bytes)
}

/**
 * Text of unknown coding: byte order mark first, then UTF-16 by its zeros, then UTF-8 if it is valid, else
 * Windows-1252 with a warning. The mark is dropped.
 */
export function decodeText(bytes: Uint8Array): {
  readonly text: string
  readonly warnings: readonly string[]
} {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { text: decodeWith('utf-16le', bytes), warnings: [] }
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { text: decodeWith('utf-16be', bytes), warnings: [] }
  const wide = looksLikeUtf16(bytes)
  if (wide !== null) return { text: decodeWith(wide, bytes), warnings: [] }
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), warnings: [] }
  } catch {
    const warning = doubtSentence({ code: 'guessed-text-coding' })
    return { text: decodeWith('windows-1252', bytes), warnings: [warning] }
  }
}
