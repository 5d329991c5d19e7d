// Elevations and what a doorway does, on paper. With LINTELBOOK_LOOK set to a folder, the pages are left there.
import { copyFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import {
  elevationLegend,
  gateLegend,
  gateWords,
  type BehaviourRow,
  type DocumentBlocks,
  type Gate,
  type GatePassage,
} from '../../../core/documents/index.ts'
import { fullPair, magnetDoor, door, pair } from '../drawing/samples.ts'
import { keep, missingTools, print, run } from './printed.ts'

const noTools = missingTools('pdftotext', 'pdfinfo', 'qpdf').length > 0
const held: GatePassage = { form: 'held' }
const free: GatePassage = { form: 'free' }

const row = (
  condition: string,
  into: GatePassage,
  out: GatePassage,
  because: readonly string[],
  trapped: Gate['trapped'] = 'no',
): BehaviourRow => ({ condition, gate: { in: into, out, trapped }, because })

const rows: readonly BehaviourRow[] = [
  row('Secured', held, held, ['M1 is fed from PS2 and holds.', 'Nothing asks M1 for release.'], 'yes'),
  row('Credential shown', free, free, ['R1 reads a credential and opens the feed of M1 for 5 s.']),
  row('Exit asked', held, { form: 'free by hardware', motions: 1 }, ['One motion of L1 draws the latch.']),
  row('Manual release', held, { form: 'free by hardware', motions: 2 }, ['It takes 2 motions.']),
  row('Fire alarm', held, { form: 'waits', seconds: 15 }, [
    'X1 must be held; it lets go after 15 s.',
    ...Array.from(
      { length: 9 },
      (_, at) => `Step ${at + 1} of a long chain of reasons that runs over several lines.`,
    ),
  ]),
  row('No power', held, { form: 'not known' }, ['Whether M1 fails free is not known.'], 'unknown'),
]

const sheet: DocumentBlocks = {
  facts: {
    title: 'Opening 118',
    jobName: 'Harrow Street Clinic',
    jobNumber: null,
    client: null,
    address: null,
    preparedBy: null,
    issueName: null,
    dateText: '3 March 2026',
    pageNote: 'Local codes and the authority having jurisdiction decide.',
  },
  blocks: [
    { form: 'title', title: 'Opening 118', lines: ['Pharmacy store, from 117'], facts: [] },
    { form: 'elevation', title: 'Egress side', input: door({ fittings: magnetDoor }) },
    { form: 'behaviour', title: 'What it does', rows, emptyText: 'Nothing is known yet.' },
    { form: 'elevation', title: 'Lobby pair', input: pair({ hand: 'RHR', fittings: fullPair }) },
    { form: 'elevation', title: 'Not known yet', input: door({ hand: null, widthMicrometres: null }) },
    { form: 'behaviour', title: 'Lobby pair', rows: [], emptyText: 'Give the opening fittings first.' },
    { form: 'legend', title: 'What the signs mean', sections: [gateLegend, elevationLegend] },
  ],
}

const sizes = [
  ['letter', 'portrait'],
  ['letter', 'landscape'],
  ['a4', 'portrait'],
  ['tabloid', 'landscape'],
] as const

describe.skipIf(noTools).each(sizes)('an opening on %s, %s', (pageSize, orientation) => {
  let path: string
  let text: string
  beforeAll(async () => {
    const { bytes, written } = await print(sheet, { pageSize, orientation })
    expect(written.missingCharacters).toEqual([])
    expect(written.notesInFull).toBe(0)
    path = keep(bytes)
    text = run('pdftotext', '-layout', path, '-')
    const look = process.env['LINTELBOOK_LOOK']
    if (look !== undefined) copyFileSync(path, join(look, `opening-${pageSize}-${orientation}.pdf`))
  })

  test('has every tag, size, condition and reason', () => {
    const plain = text.replace(/\s+/g, ' ')
    for (const { tag, placement } of [...magnetDoor, ...fullPair])
      if (placement !== 'elsewhere') expect(text).toMatch(new RegExp(`\\b${tag}\\b`))
    for (const words of ['3-0', '7-0', '6-0', 'width not known', 'Give the opening fittings first.'])
      expect(plain).toContain(words)
    for (const { condition } of rows) expect(plain).toContain(condition)
    expect(plain).toContain('Step 9 of a long chain')
    expect(plain).toMatch(/Scale (3\/4|1\/2|3\/8) in\. to 1 ft, printed at full size\./)
  })

  test('is clean, with figures that say what they show and marks that say what they mean', () => {
    expect(run('qpdf', '--check', path)).toContain('No syntax or stream encoding errors')
    const objects = run('qpdf', '--qdf', '--object-streams=disable', path, '-')
    expect(objects.match(/\/S \/Figure/g)).toHaveLength(3)
    expect(objects.match(/\/BBox \[/g)).toHaveLength(3)
    expect(objects).toContain(
      '(Elevation, 3-0 by 7-0. Seen from the egress side. Hinges on the right; opens away.',
    )
    for (const { gate } of rows) expect(objects).toContain(`(${gateWords(gate)})`)
  })

  test('keeps every figure on its page, its box around its lines', () => {
    const objects = run('qpdf', '--qdf', '--object-streams=disable', path, '-')
    const page = run('pdfinfo', path).match(/Page size: +([\d.]+) x ([\d.]+)/)
    const boxes = [...objects.matchAll(/\/BBox \[\s*([\d.\s-]+)\]/g)].map((found) =>
      (found[1] ?? '').trim().split(/\s+/).map(Number),
    )
    expect(boxes).toHaveLength(3)
    for (const [left = 0, foot = 0, right = 0, top = 0] of boxes) {
      expect(left >= 36 && foot >= 56 && top <= Number(page?.[2]) - 36).toBe(true)
      expect(right > left && top > foot && right <= Number(page?.[1]) - 36).toBe(true)
    }
  })
})

describe.skipIf(noTools)('without tags', () => {
  test('it says the same', async () => {
    const tagged = await print(sheet)
    const plain = await print(sheet, { taggedUpToPages: 0 })
    const words = (bytes: Uint8Array): string =>
      run('pdftotext', '-layout', keep(bytes), '-').replace(/\s+/g, ' ')
    expect(words(plain.bytes)).toBe(words(tagged.bytes))
  })

  test('a schedule may carry gates in its cells, and its column finds room for them', async () => {
    const { bytes } = await print({
      ...sheet,
      blocks: [
        {
          form: 'table',
          title: 'Openings',
          columns: ['Mark', 'Secured', 'Fire alarm'].map((heading) => ({
            key: heading,
            heading,
            unit: null,
            widthWeight: 0,
            align: 'left',
            priority: 0,
          })),
          groups: [
            {
              title: 'Level 1',
              within: null,
              countText: null,
              rows: [
                {
                  cells: ['118', '', ''],
                  marks: {},
                  gates: {
                    Secured: { in: held, out: held, trapped: 'no' },
                    'Fire alarm': { in: free, out: free, trapped: 'no' },
                  },
                },
              ],
            },
          ],
          emptyText: '',
        },
      ],
    })
    const objects = run('qpdf', '--qdf', '--object-streams=disable', keep(bytes), '-')
    expect(objects).toContain('(in held, out held)')
    expect(objects).toContain('(in free, out free)')
  })
})
