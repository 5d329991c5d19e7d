// Marks (door numbers) in the order and with the successors people expect. Marks are text, never numbers.

const isDigit = (code: number): boolean => code >= 48 && code <= 57
/** Blanks and punctuation part the pieces of a mark and weigh nothing themselves. */
const isGap = (code: number): boolean =>
  code <= 47 || (code >= 58 && code <= 64) || (code >= 91 && code <= 96) || code === 0xa0

/** The order of code units; no locale, so that it is the same on every machine. */
const plainOrder = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

/** Whole numbers of any length, as text. */
function numberOrder(a: string, b: string): number {
  const [left, right] = [a.replace(/^0+(?=\d)/, ''), b.replace(/^0+(?=\d)/, '')]
  return left.length - right.length || plainOrder(left, right)
}

interface Piece {
  readonly text: string
  readonly number: boolean
  readonly end: number
}

function pieceFrom(mark: string, start: number): Piece | null {
  let at = start
  while (at < mark.length && isGap(mark.charCodeAt(at))) at += 1
  if (at >= mark.length) return null
  const number = isDigit(mark.charCodeAt(at))
  let end = at + 1
  while (end < mark.length) {
    const code = mark.charCodeAt(end)
    if (isGap(code) || isDigit(code) !== number) break
    end += 1
  }
  return { text: mark.slice(at, end), number, end }
}

/**
 * People's order: 2, 10, 10A, 101, 104A, B2-03. Numbers by value, numbers before letters, case and punctuation only to
 * tell equals apart. A total order: 0 only for the same text.
 */
export function compareMarks(a: string, b: string): number {
  let [atA, atB] = [0, 0]
  for (;;) {
    const [left, right] = [pieceFrom(a, atA), pieceFrom(b, atB)]
    if (left === null || right === null) {
      if (left !== null) return 1
      if (right !== null) return -1
      return plainOrder(a, b)
    }
    if (left.number !== right.number) return left.number ? -1 : 1
    const order = left.number
      ? numberOrder(left.text, right.text)
      : plainOrder(left.text.toLowerCase(), right.text.toLowerCase())
    if (order !== 0) return order < 0 ? -1 : 1
    ;[atA, atB] = [left.end, right.end]
  }
}

/** The letters after these: A to B, Z to AA, az to ba. */
function nextLetters(letters: string): string {
  const last = letters.at(-1) ?? ''
  const head = letters.slice(0, -1)
  if (last !== 'z' && last !== 'Z') return head + String.fromCharCode(last.charCodeAt(0) + 1)
  const first = last === 'z' ? 'a' : 'A'
  return (head === '' ? first : nextLetters(head)) + first
}

/** The mark that follows: 118 to 119, 104A to 104B, D-009 to D-010. A mark that cannot be counted gets a 2. */
export function nextMark(mark: string): string {
  const text = mark.trim()
  const digits = /^(.*?)(\d+)$/s.exec(text)
  if (digits !== null) {
    const [, head = '', tail = ''] = digits
    return head + String(BigInt(tail) + 1n).padStart(tail.length, '0')
  }
  const letters = /^(.*\d[\s._-]?|)([a-z]{1,2}|[A-Z]{1,2})$/s.exec(text)
  if (letters !== null) return (letters[1] ?? '') + nextLetters(letters[2] ?? '')
  return text === '' ? '1' : `${text} 2`
}

/** As many marks as asked, the first being `start`. */
export function markSequence(start: string, count: number): string[] {
  const marks: string[] = []
  let mark = start.trim()
  for (let made = 0; made < count; made += 1) {
    marks.push(mark)
    mark = nextMark(mark)
  }
  return marks
}
