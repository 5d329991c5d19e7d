// Drawings and what a doorway does, on paper.
import {
  elevationWords,
  type BehaviourBlock,
  type ElevationBlock,
  type TableBlock,
} from '../../core/documents/index.ts'
import { elevationToScale } from '../drawing/index.ts'
import { paintLines, room, type Layout, type Piece } from './pieces.ts'
import type { Style } from './setting.ts'
import { tablePieces } from './table-pieces.ts'
import { headingPiece, headingStyle, wordsPieces } from './words-pieces.ts'

/** Of a page's height, so that the words and the table's head still stand beside it. */
const mostOfPage = 0.52
const widestDrawing = 420
const captionStyle: Style = { face: 'words', size: 8.4 }
const captionLeading = 11
const gapToCaption = 16
const narrowestCaption = 130

/** The door to scale with its words beside it, under its heading. */
export function elevationPieces(block: ElevationBlock, layout: Layout): Piece[] {
  const { look, setter } = layout
  const width = look.right - look.left
  const { drawing, scaleWords } = elevationToScale(block.input, {
    width: Math.min(widestDrawing, width - gapToCaption - narrowestCaption),
    height: (look.bottom - look.top) * mostOfPage,
    textSize: look.tableSize,
  })
  const captionLeft = look.left + drawing.width + gapToCaption
  const captionWidth = Math.min(260, look.right - captionLeft)
  const scale = scaleWords === null ? 'Not to a usual scale.' : `Scale ${scaleWords}, printed at full size.`
  const lines = [elevationWords(block.input), scale, placesWords].flatMap((text) =>
    setter.wrap(text, captionStyle, captionWidth),
  )
  const height = Math.max(drawing.height, lines.length * captionLeading + 4)
  return [
    room(14),
    headingPiece(block.title, layout, 'H2', headingStyle),
    {
      height: height + 4,
      keepWithNext: false,
      above: [],
      paint(sheet, top) {
        const place = { left: look.left, top: top + 4, width: drawing.width, height: drawing.height }
        const figure = sheet.element(sheet.root, 'Figure', { shows: { text: drawing.name, place } })
        sheet.say(figure, () => sheet.pen.drawing(drawing, place.left, place.top))
        const first = top + 4 + captionStyle.size
        sheet.say(sheet.element(sheet.root, 'P'), () =>
          paintLines(
            sheet.pen,
            { lines, tail: null },
            captionLeft,
            first,
            captionWidth,
            captionStyle.size,
            captionLeading,
            'soft',
          ),
        )
      },
    },
  ]
}

const placesWords = 'Fittings stand where this job places them; measure on site.'
/** Reasons are long; they run on here rather than to the notes. */
const mostReasonLines = 12

/** What happens when, as a table with gate marks. */
export function behaviourPieces(block: BehaviourBlock, layout: Layout): Piece[] {
  const heading = [room(14), headingPiece(block.title, layout, 'H2', headingStyle)]
  if (block.rows.length === 0)
    return [
      ...heading,
      ...wordsPieces({ form: 'words', title: null, paragraphs: [block.emptyText], cautions: [] }, layout),
    ]
  return [...heading, ...tablePieces(tableOf(block), layout, mostReasonLines).pieces]
}

const tableOf = (block: BehaviourBlock): TableBlock => ({
  form: 'table',
  title: block.title,
  columns: [
    { key: 'when', heading: 'When', unit: null, widthWeight: 0, align: 'left', priority: 0 },
    { key: 'passage', heading: 'In, out', unit: null, widthWeight: 0, align: 'left', priority: 0 },
    { key: 'because', heading: 'Because', unit: null, widthWeight: 1, align: 'left', priority: 0 },
  ],
  groups: [
    {
      title: '',
      within: null,
      countText: null,
      rows: block.rows.map(({ condition, gate, because }) => ({
        cells: [condition, '', because.join(' ')],
        marks: {},
        gates: { passage: gate },
      })),
    },
  ],
  emptyText: block.emptyText,
})
