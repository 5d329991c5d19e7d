// Whose page this is, on every page: a sheet that is found alone can be put back.
import { issueWords, type DocumentFacts } from '../../core/documents/index.ts'
import type { LaterWords, LinkTarget } from './pdf-inside.ts'
import type { Sheet } from './pieces.ts'
import type { PageLook } from './page-sizes.ts'
import type { Setter, Style } from './setting.ts'

/** Room that the running head takes. */
export const headRoom = 17

const headStyle: Style = { face: 'tableStrong', size: 8.6 }
const headSoftStyle: Style = { face: 'table', size: 8.6 }
export const footStyle: Style = { face: 'plain', size: 7 }
/** What a count of pages that is only known later may take. */
const laterRoom = 17

export interface RunningHead {
  readonly strong: string
  readonly soft: string
  /** At the right, leading somewhere. */
  readonly link: { readonly words: string; readonly target: LinkTarget } | null
}

export function paintHead(head: RunningHead, look: PageLook, setter: Setter, sheet: Sheet): void {
  const { pen } = sheet
  sheet.artifact('Pagination', () => {
    let right = look.right
    if (head.link !== null) {
      const words = setter.line(head.link.words, headSoftStyle)
      const width = words.width * headSoftStyle.size
      pen.text(words, look.right - width, look.top + 6, headSoftStyle.size, 'blue')
      sheet.link(
        { left: look.right - width - 3, top: look.top - 3, width: width + 3, height: 13 },
        head.link.target,
      )
      right -= width + 12
    }
    const strong = setter.shorten(head.strong, headStyle, (right - look.left) * 0.6)
    const strongEnd = look.left + strong.width * headStyle.size + 10
    pen.text(strong, look.left, look.top + 6, headStyle.size, 'ink')
    const soft = setter.shorten(head.soft, headSoftStyle, right - strongEnd)
    pen.text(soft, strongEnd, look.top + 6, headSoftStyle.size, 'soft')
  })
}

const joined = (parts: readonly (string | null)[]): string =>
  parts.filter((part) => part !== null && part.trim() !== '').join('  ·  ')

export interface Foot {
  readonly facts: DocumentFacts
  readonly note: string | null
  /** The note is a caution of this page: someone could be hurt. */
  readonly isCaution: boolean
  /** "page 3 of 9"; with `later` it ends before the words that are settled later. */
  readonly pageWords: string
  readonly later: LaterWords | null
}

export function paintFoot(foot: Foot, look: PageLook, setter: Setter, sheet: Sheet): void {
  const { pen } = sheet
  const { facts } = foot
  sheet.artifact('Pagination', () => {
    const y = look.footBaseline
    pen.rule(look.left, y - 12, look.right, y - 12, 0.4, 'rule')
    const right = foot.later === null ? look.right : look.right - laterRoom
    const pageWords = setter.line(foot.pageWords, footStyle)
    const pageWidth = pageWords.width * footStyle.size
    pen.text(pageWords, right - pageWidth, y - 2, footStyle.size, 'ink')
    if (foot.later !== null) pen.operators(foot.later.shownAt(right, y - 2))
    const room = right - look.left - pageWidth - 16
    const note = setter.shorten(foot.note ?? '', footStyle, room / 2)
    const noteWidth = note.width * footStyle.size
    const whose = joined([facts.jobName, facts.jobNumber, issueWords(facts.issueName), facts.dateText])
    pen.text(
      setter.shorten(whose, footStyle, room - noteWidth - 16),
      look.left,
      y - 2,
      footStyle.size,
      'soft',
    )
    pen.text(note, look.left + room - noteWidth, y - 2, footStyle.size, foot.isCaution ? 'red' : 'soft')
  })
}
