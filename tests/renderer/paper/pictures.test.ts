import { deflateSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { openPicture, pictureMatrix, type Picture } from '../../../renderer/paper/pictures.ts'
import { png } from './books.ts'

/** A JPEG as far as it is looked at: size, colours, the start of the scan and its end. */
function jpeg(
  options: { frame?: number; colours?: number; orientation?: number; end?: boolean } = {},
): Uint8Array {
  const { frame = 0xc0, colours = 3, orientation, end = true } = options
  const exif =
    orientation === undefined
      ? []
      : [
          [0xff, 0xe1, 0, 34],
          [...Buffer.from('Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01', 'latin1')],
          [0, orientation, 0, 0, 0, 0, 0, 0],
        ]
  return Uint8Array.from(
    [
      [0xff, 0xd8],
      ...exif,
      [0xff, frame, 0, 17, 8, 0, 100, 0, 160, colours, 1, 0x11, 0, 2, 0x11, 1, 3, 0x11, 1],
      [0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0, 1, 2, 3],
      end ? [0xff, 0xd9] : [],
    ].flat(),
  )
}

const opened = (bytes: Uint8Array): Picture => {
  const found = openPicture('p', bytes)
  if ('problem' in found) throw new Error(found.problem)
  return found
}
const problemOf = (bytes: Uint8Array | null): string => {
  const found = openPicture('p', bytes)
  return 'problem' in found ? found.problem : 'none'
}

describe('which way up', () => {
  const place = { left: 100, top: 200, width: 40, height: 30 }
  const corner = (orientation: number, u: number, v: number): string => {
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = pictureMatrix(
      { ...opened(jpeg()), orientation },
      place,
    )
    const [x, y] = [a * u + c * v + e, b * u + d * v + f]
    return `${y === 200 ? 'top' : y === 230 ? 'bottom' : y} ${x === 100 ? 'left' : x === 140 ? 'right' : x}`
  }

  // Where the first row and the first column of what is stored belong. Source: CIPA DC-008 (Exif 2.32), tag 274.
  test.each([
    [1, 'top left', 'top right'],
    [2, 'top right', 'top left'],
    [3, 'bottom right', 'bottom left'],
    [4, 'bottom left', 'bottom right'],
    [5, 'top left', 'bottom left'],
    [6, 'top right', 'bottom right'],
    [7, 'bottom right', 'top right'],
    [8, 'bottom left', 'top left'],
  ])(
    'held as %d: the stored first pixel is %s, the end of the first row %s',
    (orientation, first, rowEnd) => {
      // In a picture's own square v runs upwards: the first row is at 1.
      expect(corner(orientation, 0, 1)).toBe(first)
      expect(corner(orientation, 1, 1)).toBe(rowEnd)
    },
  )

  test.each([
    [undefined, 160, 100],
    [1, 160, 100],
    [3, 160, 100],
    [6, 100, 160],
    [8, 100, 160],
    [9, 160, 100],
  ])('a JPEG that says %s is looked at as %d by %d', (orientation, width, height) => {
    const found = opened(jpeg(orientation === undefined ? {} : { orientation }))
    expect([found.widthPixels, found.heightPixels]).toEqual([width, height])
  })
})

describe('what can be printed', () => {
  test.each([
    ['a grey PNG', png(10, 8, 0, 8), { ColorSpace: 'DeviceGray' }, false],
    ['a grey PNG of one bit', png(10, 8, 0, 1), { BitsPerComponent: 1 }, false],
    ['a colour PNG', png(10, 8, 2, 8), { ColorSpace: 'DeviceRGB' }, false],
    ['a colour PNG of 16 bits', png(10, 8, 2, 16), { BitsPerComponent: 16 }, false],
    ['an indexed PNG with a clear colour', png(10, 8, 3, 4), {}, true],
    ['a grey PNG with opacity', png(10, 8, 4, 8), { ColorSpace: 'DeviceGray' }, true],
    ['a colour PNG with opacity', png(10, 8, 6, 16), { BitsPerComponent: 16 }, true],
  ])('%s', (_, bytes, dictionary, hasOpacity) => {
    const { data } = opened(bytes)
    expect(data.dictionary).toMatchObject(dictionary)
    expect(data.opacity !== null).toBe(hasOpacity)
    expect([data.widthPixels, data.heightPixels]).toEqual([10, 8])
  })

  const damagedPng = png(10, 8, 2, 8)
  const interlaced = Uint8Array.from(damagedPng)
  interlaced[28] = 1
  const huge = Uint8Array.from(damagedPng)
  huge.set([0, 1, 0, 0, 0, 1, 0, 0], 16)
  const bomb = Buffer.concat([
    damagedPng.subarray(0, 33),
    Buffer.alloc(4),
    Buffer.from('IDAT'),
    deflateSync(Buffer.alloc(1_000_000)),
  ])
  bomb.writeUInt32BE(bomb.length - 41, 33)

  test.each([
    ['nothing', null, 'there is no file of that name'],
    ['no bytes', new Uint8Array(0), 'there is no file of that name'],
    ['another kind of file', Buffer.from('GIF89a and more'), 'it is neither JPEG nor PNG'],
    ['a JPEG cut short', jpeg({ end: false }), 'the file is damaged or cut short'],
    ['a JPEG that ends in its head', jpeg().subarray(0, 12), 'the file is damaged or cut short'],
    [
      'a JPEG for a press',
      jpeg({ colours: 4 }),
      'its colours are those of a printing press; save it again with screen colours',
    ],
    [
      'a lossless JPEG',
      jpeg({ frame: 0xc3 }),
      'it is a JPEG of an unusual kind; save it again as a plain one',
    ],
    ['a PNG cut short', damagedPng.subarray(0, 50), 'the file is damaged or cut short'],
    ['an interlaced PNG', interlaced, 'it is an interlaced PNG; save it again without interlacing'],
    ['a PNG that says it is huge', huge, 'it has more than 60 million pixels'],
    ['a PNG that unpacks to more than it says', bomb, 'the file is damaged or cut short'],
  ])('%s is refused with a reason', (_, bytes, problem) => expect(problemOf(bytes)).toBe(problem))
})
