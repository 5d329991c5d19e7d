// Photographs as bytes: whether they can be printed, how large they are, which way up, and how a PDF keeps them.
import { deflateSync, inflateSync } from 'node:zlib'
import type { PictureData, Place } from './pdf-inside.ts'

export interface Picture {
  readonly data: PictureData
  /** As it is looked at. */
  readonly widthPixels: number
  readonly heightPixels: number
  /** How it was held, 1 to 8. Source: CIPA DC-008 (Exif), tag 274. */
  readonly orientation: number
}

type Opened = Picture | { readonly problem: string }

const broken = { problem: 'the file is damaged or cut short' }

/** Looks at a JPEG or PNG. Never throws: what cannot be printed comes back as the end of a sentence. */
export function openPicture(key: string, bytes: Uint8Array | null): Opened {
  if (bytes === null || bytes.length === 0) return { problem: 'there is no file of that name' }
  try {
    if (bytes[0] === 0xff && bytes[1] === 0xd8) return openJpeg(key, bytes)
    if (pngSign.every((each, at) => bytes[at] === each)) return openPng(key, bytes)
    return { problem: 'it is neither JPEG nor PNG' }
  } catch {
    return broken
  }
}

/** The six numbers that put a picture upright into its place, y downwards. */
export function pictureMatrix({ orientation }: Picture, place: Place): readonly number[] {
  const { left, top, width: w, height: h } = place
  const upright: Readonly<Record<number, readonly [number, number, number, number, number, number]>> = {
    1: [w, 0, 0, h, 0, 0],
    2: [-w, 0, 0, h, w, 0],
    3: [-w, 0, 0, -h, w, h],
    4: [w, 0, 0, -h, 0, h],
    5: [0, -h, -w, 0, w, h],
    6: [0, -h, w, 0, 0, h],
    7: [0, h, w, 0, 0, 0],
    8: [0, h, -w, 0, w, 0],
  }
  const [a, b, c, d, e, f] = upright[orientation] ?? [w, 0, 0, h, 0, 0]
  return [a, -b, c, -d, left + e, top + h - f].map((each) => Math.round(each * 1000) / 1000)
}

const view = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)

/** Frames with the usual coding, by the marker that starts them: baseline, extended, progressive. Source: ITU-T T.81. */
const usualFrames = new Set([0xc0, 0xc1, 0xc2])
const otherFrames = new Set([0xc3, 0xc5, 0xc6, 0xc7, 0xc9, 0xca, 0xcb, 0xcd, 0xce, 0xcf])

function openJpeg(key: string, bytes: Uint8Array): Opened {
  const data = view(bytes)
  let orientation = 1
  let frame: { width: number; height: number; colours: number; bits: number } | null = null
  let at = 2
  for (;;) {
    if (data.getUint8(at) !== 0xff) return broken
    const marker = data.getUint8(at + 1)
    if (marker === 0xff) {
      at += 1
      continue
    }
    // The picture itself follows; what ends it must be there.
    if (marker === 0xda) break
    const length = data.getUint16(at + 2)
    if (otherFrames.has(marker))
      return { problem: 'it is a JPEG of an unusual kind; save it again as a plain one' }
    if (usualFrames.has(marker))
      frame = {
        bits: data.getUint8(at + 4),
        height: data.getUint16(at + 5),
        width: data.getUint16(at + 7),
        colours: data.getUint8(at + 9),
      }
    if (marker === 0xe1) orientation = exifOrientation(bytes.subarray(at + 4, at + 2 + length)) ?? orientation
    at += 2 + length
  }
  if (frame === null || frame.width === 0 || frame.height === 0) return broken
  if (Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).lastIndexOf('\xff\xd9', 'latin1') < at)
    return broken
  if (frame.colours !== 1 && frame.colours !== 3)
    return { problem: 'its colours are those of a printing press; save it again with screen colours' }
  const turned = orientation > 4
  return {
    widthPixels: turned ? frame.height : frame.width,
    heightPixels: turned ? frame.width : frame.height,
    orientation,
    data: {
      key,
      widthPixels: frame.width,
      heightPixels: frame.height,
      dictionary: {
        BitsPerComponent: frame.bits,
        ColorSpace: frame.colours === 1 ? 'DeviceGray' : 'DeviceRGB',
        Filter: 'DCTDecode',
      },
      bytes,
      opacity: null,
      palette: null,
    },
  }
}

const exifSign = 'Exif\0\0'
const orientationTag = 274

function exifOrientation(segment: Uint8Array): number | null {
  if (segment.length < 14 || !exifSign.split('').every((each, at) => segment[at] === each.charCodeAt(0)))
    return null
  const tiff = view(segment.subarray(6))
  const little = tiff.getUint16(0) === 0x4949
  const first = tiff.getUint32(4, little)
  if (first + 2 > tiff.byteLength) return null
  const entries = tiff.getUint16(first, little)
  for (let at = first + 2; at < first + 2 + entries * 12 && at + 12 <= tiff.byteLength; at += 12)
    if (tiff.getUint16(at, little) === orientationTag) {
      const value = tiff.getUint16(at + 8, little)
      return value >= 1 && value <= 8 ? value : null
    }
  return null
}

const pngSign = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]
/** Samples of a pixel by colour type. Source: ISO/IEC 15948, table 8. */
const samplesOf: Readonly<Record<number, number>> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 }
/** Larger pictures are not unpacked: a small file may claim any size. */
const mostPixels = 60_000_000

function openPng(key: string, bytes: Uint8Array): Opened {
  const data = view(bytes)
  const width = data.getUint32(16)
  const height = data.getUint32(20)
  const bits = data.getUint8(24)
  const colourType = data.getUint8(25)
  const samples = samplesOf[colourType]
  if (samples === undefined || width === 0 || height === 0) return broken
  if (data.getUint8(28) !== 0)
    return { problem: 'it is an interlaced PNG; save it again without interlacing' }
  if (width * height > mostPixels) return { problem: 'it has more than 60 million pixels' }
  const packed: Uint8Array[] = []
  let palette: Uint8Array | null = null
  let transparency: Uint8Array | null = null
  for (let at = 8; at + 12 <= bytes.length;) {
    const length = data.getUint32(at)
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8))
    const body = bytes.subarray(at + 8, at + 8 + length)
    if (name === 'IDAT') packed.push(body)
    if (name === 'PLTE') palette = body
    if (name === 'tRNS') transparency = body
    if (name === 'IEND') break
    at += 12 + length
  }
  const rowBytes = Math.ceil((width * samples * bits) / 8)
  const size = (rowBytes + 1) * height
  const joined = Buffer.concat(packed)
  const filtered = inflateSync(joined, { maxOutputLength: size + 1 })
  if (filtered.length < size || (colourType === 3 && palette === null)) return broken
  const picture = (dictionary: Record<string, unknown>, rest: Partial<PictureData>): Picture => ({
    widthPixels: width,
    heightPixels: height,
    orientation: 1,
    data: {
      key,
      widthPixels: width,
      heightPixels: height,
      dictionary: { BitsPerComponent: bits, Filter: 'FlateDecode', ...dictionary },
      bytes: joined,
      opacity: null,
      palette: colourType === 3 ? palette : null,
      ...rest,
    },
  })
  const colours = colourType === 2 || colourType === 6 ? 3 : 1
  const space = colours === 3 ? 'DeviceRGB' : 'DeviceGray'
  const packedRows = {
    ...(colourType === 3 ? {} : { ColorSpace: space }),
    DecodeParms: { Predictor: 15, Colors: samples, BitsPerComponent: bits, Columns: width },
  }
  if (colourType === 4 || colourType === 6) {
    const bytesEach = bits / 8
    const plain = unfilter(filtered, rowBytes, height, samples * bytesEach)
    const { colour, opacity } = splitOpacity(plain, samples, bytesEach)
    return picture({ ColorSpace: space }, { bytes: deflateSync(colour), opacity: deflateSync(opacity) })
  }
  if (transparency === null) return picture(packedRows, {})
  if (colourType !== 3) {
    // One colour is clear; it is named by its samples, twice.
    const clear = Array.from({ length: samples }, (_, at) => view(transparency).getUint16(at * 2))
    return picture({ ...packedRows, Mask: clear.flatMap((each) => [each, each]) }, {})
  }
  const plain = unfilter(filtered, rowBytes, height, 1)
  const opacity = new Uint8Array(width * height)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const bit = x * bits
      const byte = plain[y * rowBytes + (bit >> 3)] as number
      const index = (byte >> (8 - bits - (bit & 7))) & ((1 << bits) - 1)
      opacity[y * width + x] = transparency[index] ?? 255
    }
  return picture(packedRows, { opacity: deflateSync(opacity) })
}

/** Rows as they were before each was told by its neighbours. Source: ISO/IEC 15948, 9. */
function unfilter(filtered: Uint8Array, rowBytes: number, height: number, pixelBytes: number): Uint8Array {
  const plain = new Uint8Array(rowBytes * height)
  for (let y = 0; y < height; y += 1) {
    const from = y * (rowBytes + 1)
    const to = y * rowBytes
    const filter = filtered[from]
    for (let x = 0; x < rowBytes; x += 1) {
      const raw = filtered[from + 1 + x] as number
      const left = x >= pixelBytes ? (plain[to + x - pixelBytes] as number) : 0
      const up = y > 0 ? (plain[to - rowBytes + x] as number) : 0
      const corner = x >= pixelBytes && y > 0 ? (plain[to - rowBytes + x - pixelBytes] as number) : 0
      plain[to + x] = raw + predicted(filter, left, up, corner)
    }
  }
  return plain
}

function predicted(filter: number | undefined, left: number, up: number, corner: number): number {
  switch (filter) {
    case 1:
      return left
    case 2:
      return up
    case 3:
      return (left + up) >> 1
    case 4: {
      const guess = left + up - corner
      const [byLeft, byUp, byCorner] = [left, up, corner].map((each) => Math.abs(guess - each)) as [
        number,
        number,
        number,
      ]
      return byLeft <= byUp && byLeft <= byCorner ? left : byUp <= byCorner ? up : corner
    }
    default:
      return 0
  }
}

function splitOpacity(
  pixels: Uint8Array,
  samples: number,
  bytesEach: number,
): { colour: Uint8Array; opacity: Uint8Array } {
  const pixelBytes = samples * bytesEach
  const colourBytes = pixelBytes - bytesEach
  const count = pixels.length / pixelBytes
  const colour = new Uint8Array(count * colourBytes)
  const opacity = new Uint8Array(count)
  for (let at = 0; at < count; at += 1) {
    for (let byte = 0; byte < colourBytes; byte += 1)
      colour[at * colourBytes + byte] = pixels[at * pixelBytes + byte] as number
    opacity[at] = pixels[at * pixelBytes + colourBytes] as number
  }
  return { colour, opacity }
}
