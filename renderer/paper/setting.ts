// Setting text: cleaning it, finding a face for every character, breaking it into lines.
import { hasGlyph, widthOf, type Face, type FaceName, type Faces } from './faces.ts'

/** A stretch of text in one face; the width is in ems. */
export interface Run {
  readonly face: Face
  readonly text: string
  readonly width: number
}

export interface Line {
  readonly runs: readonly Run[]
  readonly width: number
}

/** Text of a role at a size. */
export interface Style {
  readonly face: Exclude<FaceName, 'fallback'>
  readonly size: number
}

export interface MissingCharacter {
  readonly character: string
  /** "U+4E2D". */
  readonly codePoint: string
}

export interface Setter {
  /** One line, however long. */
  line(text: string, style: Style): Line
  /** Width in points. */
  width(text: string, style: Style): number
  /** Lines no wider than `width` points; line feeds break, words too wide are cut between characters. */
  wrap(text: string, style: Style, width: number): Line[]
  /** One line no wider than `width`, ended by an ellipsis where it had to be shortened. */
  shorten(text: string, style: Style, width: number): Line
  readonly missing: ReadonlyMap<string, MissingCharacter>
}

// Control characters other than the line feed, soft hyphens, zero-width and direction marks, variation selectors.
const unseen = /(?!\n)\p{Cc}|\p{Default_Ignorable_Code_Point}/gu
const onlyPlain = /^[\u0020-\u007e]*$/

/** Text as it can be set: composed, blanks and line ends made alike, nothing invisible. */
export function cleanText(text: string): string {
  if (onlyPlain.test(text)) return text
  return text
    .toWellFormed()
    .normalize('NFC')
    .replace(/\r\n?|[\u0085\u2028\u2029]/g, '\n')
    .replace(/[\t\v\f]/g, ' ')
    .replace(unseen, '')
}

export function openSetter(faces: Faces): Setter {
  const missing = new Map<string, MissingCharacter>()
  const lines = new Map<string, Line>()

  const faceFor = (face: Face, codePoint: number): Face | null => {
    if (hasGlyph(face, codePoint)) return face
    if (hasGlyph(faces.fallback, codePoint)) return faces.fallback
    return null
  }

  const setRuns = (text: string, face: Face): Run[] => {
    const runs: { face: Face; text: string }[] = []
    const put = (to: Face, part: string): void => {
      const last = runs.at(-1)
      if (last?.face === to) last.text += part
      else runs.push({ face: to, text: part })
    }
    for (const character of text) {
      const codePoint = character.codePointAt(0) as number
      const found = faceFor(face, codePoint)
      if (found !== null) {
        put(found, character)
        continue
      }
      missing.set(character, {
        character,
        codePoint: `U+${codePoint.toString(16).toUpperCase().padStart(4, '0')}`,
      })
      put(face, '?')
    }
    return runs.map((run) => ({ ...run, width: widthOf(run.face, run.text) }))
  }

  /** Takes cleaned text without line feeds. */
  const setLine = (text: string, faceName: Style['face']): Line => {
    const key = `${faceName} ${text}`
    const known = lines.get(key)
    if (known !== undefined) return known
    const face = faces[faceName]
    const runs = onlyPlain.test(text)
      ? text === ''
        ? []
        : [{ face, text, width: widthOf(face, text) }]
      : setRuns(text, face)
    const line = { runs, width: runs.reduce((sum, run) => sum + run.width, 0) }
    if (lines.size > 50_000) lines.clear()
    lines.set(key, line)
    return line
  }

  const wrapParagraph = (text: string, style: Style, width: number): Line[] => {
    const whole = setLine(text, style.face)
    if (whole.width * style.size <= width) return [whole]
    const room = width / style.size
    const found: Line[] = []
    let start = 0
    while (start < text.length) {
      let end = start
      // Takes words as long as they fit; a break may also follow a hyphen or a slash.
      for (const place of breakPlaces(text, start)) {
        if (setLine(text.slice(start, place).trimEnd(), style.face).width > room) break
        end = place
      }
      if (end === start) end = cutWord(text, start, style.face, room)
      const line = setLine(text.slice(start, end).trimEnd(), style.face)
      found.push(text[end - 1] === ' ' ? followedByBlank(line) : line)
      start = end
      while (text[start] === ' ') start += 1
    }
    return found
  }

  const cutWord = (text: string, start: number, face: Style['face'], room: number): number => {
    let end = start
    for (const character of text.slice(start)) {
      const next = end + character.length
      if (end > start && setLine(text.slice(start, next), face).width > room) break
      end = next
    }
    return end
  }

  return {
    missing,
    line: (text, style) => setLine(cleanText(text).replaceAll('\n', ' '), style.face),
    width: (text, style) => setLine(cleanText(text).replaceAll('\n', ' '), style.face).width * style.size,
    wrap: (text, style, width) => {
      const clean = cleanText(text).trim()
      if (clean === '') return []
      const lines = clean
        .split('\n')
        .filter((each) => each.trim() !== '')
        .map((each) => wrapParagraph(each.trim(), style, width))
      return lines.flatMap((each, index) =>
        index === lines.length - 1 ? each : [...each.slice(0, -1), followedByBlank(each.at(-1) as Line)],
      )
    },
    shorten: (text, style, width) => {
      const clean = cleanText(text).replaceAll('\n', ' ').trim()
      const whole = setLine(clean, style.face)
      if (whole.width * style.size <= width) return whole
      const characters = [...clean]
      let low = 0
      let high = characters.length
      while (low < high) {
        const middle = Math.ceil((low + high) / 2)
        const tried = setLine(`${characters.slice(0, middle).join('').trimEnd()}…`, style.face)
        if (tried.width * style.size <= width) low = middle
        else high = middle - 1
      }
      const kept = characters.slice(0, low).join('')
      // Ends after a whole word where that costs little.
      const blank = characters[low] === ' ' ? -1 : kept.lastIndexOf(' ')
      return setLine(`${(blank > kept.length * 0.6 ? kept.slice(0, blank) : kept).trimEnd()}…`, style.face)
    },
  }
}

/** Places after `start` where a line may end. */
function* breakPlaces(text: string, start: number): Iterable<number> {
  for (let at = start + 1; at < text.length; at += 1) {
    const before = text[at - 1] as string
    if (
      before === ' '
        ? text[at] !== ' '
        : (before === '-' || before === '/' || before === '–') && /\p{L}/u.test(text[at] as string)
    )
      yield at
  }
  yield text.length
}

/** The same line with a blank after it that takes no room: who reads or copies the text does not run words together. */
export function followedByBlank(line: Line): Line {
  const last = line.runs.at(-1)
  if (last === undefined || last.text.endsWith(' ')) return line
  return { runs: [...line.runs.slice(0, -1), { ...last, text: `${last.text} ` }], width: line.width }
}
