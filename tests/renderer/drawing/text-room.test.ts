import { expect, test } from 'vitest'
import { pressFonts } from '../../../electron/press.ts'
import { textRoom } from '../../../renderer/drawing/index.ts'
import { openFaces, widthOf } from '../../../renderer/paper/faces.ts'

// The face itself, as screens and paper use it for marks.
const { tableStrong } = openFaces(await pressFonts())

const words = ['M1', 'width not known', '7-11 1/4', 'WWW', 'The quick brown fox', '?', '5\'-0"', 'AV1']

test.each([...words, ...Array.from({ length: 95 }, (_, at) => String.fromCharCode(32 + at))])(
  'room for %j is enough and not much more',
  (text) => {
    const measured = widthOf(tableStrong, text)
    expect(textRoom(text, 1)).toBeGreaterThanOrEqual(measured - 0.005)
    expect(textRoom(text, 1)).toBeLessThanOrEqual(measured * 1.2 + 0.05)
  },
)
