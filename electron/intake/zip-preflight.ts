import { crc32, inflateRawSync } from 'node:zlib'
import { fromBufferPromise } from 'yauzl'
import type { Entry, ZipFile } from 'yauzl'
import { MAX_INFLATED_BYTES, MAX_ZIP_ENTRIES, refused } from './problems.ts'
import type { Read } from './problems.ts'

export interface ZipLimits {
  readonly entries: number
  readonly inflatedBytes: number
}

/** Every file of a zip, inflated and checked, by its name in the zip's order. Folders are left out. */
export type ZipContents = ReadonlyMap<string, Uint8Array>

const LIMITS: ZipLimits = { entries: MAX_ZIP_ENTRIES, inflatedBytes: MAX_INFLATED_BYTES }

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : ''
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}

async function openZip(name: string, bytes: Uint8Array): Promise<Read<ZipFile>> {
  try {
    const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    return {
      ok: true,
      value: await fromBufferPromise(buffer, { lazyEntries: true, validateEntrySizes: true }),
    }
  } catch (error) {
    // A zip's directory stands at its end: a good start without it is a file cut short.
    if (/end of central directory/i.test(messageOf(error))) {
      return refused({ code: 'truncated', name, what: 'zip', lastRecord: null })
    }
    return refused({ code: 'damaged', name, what: 'zip', detail: 'its list of contents is wrong' })
  }
}

async function listEntries(name: string, zip: ZipFile): Promise<Read<Entry[]>> {
  const entries: Entry[] = []
  try {
    for await (const entry of zip.eachEntry()) entries.push(entry)
  } catch (error) {
    if (/relative path|absolute path|invalid characters in fileName/i.test(messageOf(error))) {
      return refused({ code: 'unsafe-names', name })
    }
    return refused({ code: 'damaged', name, what: 'zip', detail: 'its list of contents is wrong' })
  }
  return { ok: true, value: entries }
}

/**
 * Opens a zip only if it is small and honest: entry count, declared sizes and counted sizes within limits, checksums
 * right, no name that points outside, no password. Refuses a bomb by its declared sizes before inflating anything,
 * and a liar as soon as it passes what it declared.
 */
export async function checkZip(
  name: string,
  bytes: Uint8Array,
  limits: ZipLimits = LIMITS,
): Promise<Read<ZipContents>> {
  const opened = await openZip(name, bytes)
  if (!opened.ok) return opened
  const zip = opened.value
  if (zip.entryCount > limits.entries) {
    return refused({ code: 'too-many-entries', name, entries: zip.entryCount, limit: limits.entries })
  }
  const listed = await listEntries(name, zip)
  if (!listed.ok) return listed
  const files = listed.value.filter((entry) => !entry.fileName.endsWith('/'))
  const tooBig = refused({ code: 'too-big', name, limitBytes: limits.inflatedBytes, packed: true })

  let declaredBytes = 0
  for (const entry of files) {
    if (entry.isEncrypted()) return refused({ code: 'encrypted', name })
    declaredBytes += entry.uncompressedSize
  }
  if (declaredBytes > limits.inflatedBytes) return tooBig

  const contents = new Map<string, Uint8Array>()
  for (const entry of files) {
    const damaged = (detail: string) => refused({ code: 'damaged', name, what: 'zip', detail })
    let inflated: Uint8Array
    try {
      const { fileDataStart } = await zip.readLocalFileHeaderPromise(entry, { minimal: true })
      const packed = bytes.subarray(fileDataStart, fileDataStart + entry.compressedSize)
      if (packed.length < entry.compressedSize)
        return refused({ code: 'truncated', name, what: 'zip', lastRecord: null })
      if (entry.compressionMethod === 0) inflated = packed
      else if (entry.compressionMethod === 8) {
        inflated = inflateRawSync(packed, { maxOutputLength: Math.max(1, entry.uncompressedSize) })
      } else return damaged(`${entry.fileName} is packed in an unknown way`)
    } catch (error) {
      if (codeOf(error) === 'ERR_BUFFER_TOO_LARGE')
        return damaged(`${entry.fileName} unpacks to more than it declares`)
      return damaged(`${entry.fileName} does not unpack`)
    }
    if (inflated.length !== entry.uncompressedSize)
      return damaged(`${entry.fileName} has not the size it declares`)
    if (crc32(inflated) !== entry.crc32) return damaged(`${entry.fileName} has a wrong checksum`)
    contents.set(entry.fileName, inflated)
  }
  return { ok: true, value: contents }
}
