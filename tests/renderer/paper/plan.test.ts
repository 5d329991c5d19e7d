import { expect, test } from 'vitest'
import type { Piece } from '../../../renderer/paper/pieces.ts'
import { planPages } from '../../../renderer/paper/plan.ts'

const page = { firstTop: 0, nextTop: 10, bottom: 100 }
const piece = (height: number, more: Partial<Piece> = {}): Piece => ({
  height,
  keepWithNext: false,
  above: [],
  paint: () => undefined,
  ...more,
})
const heights = (pieces: readonly Piece[]): string[] =>
  planPages(pieces, page).map((each) =>
    each.map((place) => `${place.repeated ? 'again ' : ''}${place.piece.height}@${place.top}`).join(' '),
  )

const heading = piece(12)
test.each([
  ['nothing is still one page', [], ['']],
  ['fills a page to its foot', [piece(50), piece(50), piece(1)], ['50@0 50@50', '1@10']],
  [
    'a heading never stands alone at a foot',
    [piece(80), piece(15, { keepWithNext: true }), piece(10)],
    ['80@0', '15@10 10@25'],
  ],
  [
    'a chain of headings moves as one',
    [piece(70), piece(10, { keepWithNext: true }), piece(10, { keepWithNext: true }), piece(11)],
    ['70@0', '10@10 10@20 11@30'],
  ],
  [
    'headings stand again on the next page',
    [piece(95), piece(20, { above: [heading] })],
    ['95@0', 'again 12@10 20@22'],
  ],
  ['room at a page top is left out', [piece(95), piece(20, { onlyRoom: true }), piece(5)], ['95@0', '5@10']],
  ['room keeps its place elsewhere', [piece(5), piece(20, { onlyRoom: true }), piece(5)], ['5@0 5@25']],
  ['what is taller than a page stands at a top', [piece(5), piece(200), piece(5)], ['5@0', '200@10', '5@10']],
] as const)('%s', (_, pieces, expected) => {
  expect(heights(pieces)).toEqual(expected)
})
