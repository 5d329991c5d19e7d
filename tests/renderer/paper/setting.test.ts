import { beforeAll, describe, expect, test } from 'vitest'
import { pressFonts } from '../../../electron/press.ts'
import { openFaces } from '../../../renderer/paper/faces.ts'
import { cleanText, openSetter, type Line, type Setter } from '../../../renderer/paper/setting.ts'

const style = { face: 'table', size: 10 } as const
const textOf = (line: Line): string => line.runs.map((run) => run.text).join('')
const facesOf = (line: Line): string[] => line.runs.map((run) => `${run.face.name} ${run.text}`)

let setter: Setter
let fonts: Awaited<ReturnType<typeof pressFonts>>
beforeAll(async () => {
  fonts = await pressFonts()
})
const fresh = (): Setter => (setter = openSetter(openFaces(fonts)))

describe('cleaning', () => {
  test.each([
    ['plain text', 'Strike, secure', 'Strike, secure'],
    ['composes accents', 'e\u0301', 'é'],
    ['line ends alike', 'a\r\nb\rc\u2028d', 'a\nb\nc\nd'],
    ['tabs become blanks', 'a\tb', 'a b'],
    ['unseen characters go', 'a\u00ad\u200b\ufeff\u0007b', 'ab'],
    ['half a character is marked', 'a\ud800b', 'a\ufffdb'],
  ])('%s', (_, text, expected) => expect(cleanText(text)).toBe(expected))
})

describe('faces', () => {
  test.each([
    ['what the face has stays in it', 'Ω ½ ⅛ é ü', ['table Ω ½ ⅛ é ü']],
    [
      'what it lacks comes from the fallback',
      'to → № 3',
      ['table to ', 'fallback →', 'table  ', 'fallback №', 'table  3'],
    ],
    ['what none has is a question mark', 'a中b', ['table a?b']],
  ])('%s', (_, text, expected) => expect(facesOf(fresh().line(text, style))).toEqual(expected))

  test('what none has is reported once', () => {
    fresh().line('中 中 a', style)
    expect([...setter.missing.values()]).toEqual([{ character: '中', codePoint: 'U+4E2D' }])
  })

  test('figures of the table face have one width', () => {
    const one = fresh().width('1111', style)
    for (const figure of '023456789') expect(setter.width(figure.repeat(4), style)).toBeCloseTo(one, 6)
  })
})

describe('wrapping', () => {
  test.each([
    ['fits', 'Lobby pair', 200, ['Lobby pair']],
    ['between words', 'Magnet and sensor', 50, ['Magnet and ', 'sensor']],
    ['after a hyphen in a word', 'cross-corridor', 45, ['cross-', 'corridor']],
    ['never within a size', '10-0 x 7-0', 22, ['10-0 ', 'x 7-0']],
    ['at line feeds', 'a\n\nb', 200, ['a ', 'b']],
    ['nothing', '  ', 200, []],
  ])('%s', (_, text, width, expected) =>
    expect(fresh().wrap(text, style, width).map(textOf)).toEqual(expected),
  )

  test('a word wider than the column is cut between characters, and nothing is lost', () => {
    const word = 'WITHOUTANYBREAK0123456789'.repeat(4)
    const lines = fresh().wrap(word, style, 60)
    expect(lines.map(textOf).join('')).toBe(word)
    for (const line of lines) expect(line.width * style.size).toBeLessThanOrEqual(60)
  })

  test('a shortened line ends with an ellipsis and fits', () => {
    const line = fresh().shorten(
      'The existing frame is grouted, so the raceway comes in from the side',
      style,
      120,
    )
    expect(textOf(line)).toMatch(/^The existing frame.*[a-z,]…$/)
    expect(line.width * style.size).toBeLessThanOrEqual(120)
  })
})
