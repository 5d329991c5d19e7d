// Files between the person and the program, as the window hands them over.
import type { MadeFile } from '../../core/contract/index.ts'

const piece = 0x8000

export function bytesToBase64(buffer: ArrayBuffer): string {
  const bytes = new Uint8Array(buffer)
  let text = ''
  // In pieces: the whole as arguments of one call would overflow the stack.
  for (let at = 0; at < bytes.length; at += piece)
    text += String.fromCharCode(...bytes.subarray(at, at + piece))
  return btoa(text)
}

function base64ToBytes(base64: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64)
  const bytes = new Uint8Array(text.length)
  for (let at = 0; at < text.length; at += 1) bytes[at] = text.charCodeAt(at)
  return bytes
}

/** Gives a made file to the person: the browser's downloads, or the shell's save dialog. */
export function keepFile(made: MadeFile): void {
  const url = URL.createObjectURL(new Blob([base64ToBytes(made.base64)], { type: made.mediaType }))
  const link = document.createElement('a')
  link.href = url
  link.download = made.fileName
  link.click()
  setTimeout(() => URL.revokeObjectURL(url), 60_000)
}
