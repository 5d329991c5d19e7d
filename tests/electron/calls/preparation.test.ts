// Preparation as the window asks it, and its sheets as printed: bars and dimensions measured in the PDF itself.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { execFileSync } from 'node:child_process'
import os from 'node:os'
import path from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { placeCommand, type PlacedHole, type PreparedSurface } from '../../../core/preparation/index.ts'
import { missingTools } from '../../renderer/paper/printed.ts'
import { bytesOf, start, temporaryFolder, type Running } from './support.ts'

async function demo(): Promise<Running> {
  const running = await start(temporaryFolder())
  await running.ask('job.openDemo', {})
  return running
}
const prepared = async ({ ask, row }: Running, mark: string) =>
  ask('preparation.opening', { openingId: (await row(mark)).id })

describe('one opening', () => {
  test('says what may be drilled, where each fitting stands, and how it looks', async () => {
    const found = await prepared(await demo(), '118')
    expect(found.result.preparations.map(({ tag, mayDrill }) => [tag, mayDrill])).toEqual([
      ['M1', true],
      ['C1', true],
    ])
    expect(found.placements.map(({ tag, place }) => [tag, place.value])).toEqual([
      ['M1', 'frame head'],
      ['S1', 'wall'],
      ['B1', 'wall'],
      ['F2', 'elsewhere'],
      ['R1', 'wall'],
      ['C1', 'frame head'],
    ])
    expect(found.elevation.fittings.map(({ tag }) => tag)).toEqual(found.placements.map(({ tag }) => tag))
    expect(found.frame?.headSoffitMicrometres).toBe(57_150)
  })

  test('a fitting moved is one change, and taken back as one', async () => {
    const running = await demo()
    const before = await prepared(running, '118')
    const magnet = before.placements.find(({ tag }) => tag === 'M1')
    if (magnet === undefined) throw new Error('a magnet')
    const { name } = await running.change(
      placeCommand(magnet, 'opening', 'acrossMicrometres', 4 * 25_400) as Parameters<Running['change']>[0],
    )
    expect(name).toBe('Set distance from the strike edge of M1 on 118')
    expect((await prepared(running, '118')).result.preparations[0]?.mayDrill).toBe(false)
    await running.ask('change.undo', {})
    expect((await prepared(running, '118')).result).toEqual(before.result)
  })

  test('that is gone is refused', async () => {
    const { refusal } = await demo()
    expect(await refusal('preparation.opening', { openingId: 'nowhere' })).toMatchObject({ code: 'gone' })
  })
})

describe('printing', () => {
  test('a level prints what may be drilled, less than the job', async () => {
    const { ask, schedule } = await demo()
    const [level] = (await schedule()).frame.levels
    const print = async (levelId: string | null): Promise<number> =>
      (await ask('print.preparation', { sheet: 'fitting', of: { levelId }, only: 'what may be drilled' }))
        .pages ?? 0
    const [some, all] = [await print(level?.id ?? ''), await print(null)]
    expect(some).toBeGreaterThan(10)
    expect(some).toBeLessThan(all)
  })

  test('what may not be drilled is refused with a sentence when only that is asked', async () => {
    const { ask, refusal, row } = await demo()
    const { id } = await row('117')
    const of = { openingIds: [id] }
    expect(
      await refusal('print.preparation', { sheet: 'template', of, only: 'what may be drilled' }),
    ).toMatchObject({ code: 'nothing-to-print', sentence: expect.stringContaining('drilled') as string })
    expect((await ask('print.preparation', { sheet: 'preparation', of, only: 'all' })).pages).toBeGreaterThan(
      1,
    )
  })
})

const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-preparation-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const noTools = missingTools('qpdf').length > 0

interface Line {
  readonly from: readonly [number, number]
  readonly to: readonly [number, number]
}
interface PageMarks {
  readonly lines: readonly Line[]
  /** Boxes of curved paths: drawn circles. */
  readonly circles: readonly { readonly x: number; readonly y: number; readonly diameter: number }[]
}

/** Every straight line and circle of each page, in points, read from the page's own operators. */
function marksOf(bytes: Uint8Array): PageMarks[] {
  const file = path.join(folder, 'sheet.pdf')
  writeFileSync(file, bytes)
  const text = execFileSync('qpdf', ['--qdf', '--object-streams=disable', file, '-'], {
    encoding: 'latin1',
    maxBuffer: 1 << 28,
  })
  // Nothing scales what stands on a page: the one matrix turns y over.
  const scales = [...text.matchAll(/^(\S+) \S+ \S+ (\S+) \S+ \S+ cm$/gm)].map(([, a, d]) => `${a} ${d}`)
  expect(new Set(scales)).toEqual(new Set(['1 -1']))
  expect(text).not.toMatch(/UserUnit (?!1\b)/)
  return [...text.matchAll(/stream\n([\s\S]*?)\nendstream/g)]
    .map(([, content]) => content ?? '')
    .filter((content) => content.includes(' cm\n'))
    .map((content) => ({
      lines: [...content.matchAll(/(-?[\d.]+) (-?[\d.]+) m (-?[\d.]+) (-?[\d.]+) l S/g)].map(
        ([, x1, y1, x2, y2]) => ({ from: [Number(x1), Number(y1)], to: [Number(x2), Number(y2)] }),
      ),
      circles: [...content.matchAll(/(-?[\d.]+) (-?[\d.]+) m((?:\s+(?:-?[\d.]+ ){6}c)+)/g)].map(
        ([, x, y, curves]) => {
          const points = [[Number(x), Number(y)]].concat(
            [...(curves ?? '').matchAll(/(-?[\d.]+) (-?[\d.]+) c/g)].map(([, a, b]) => [
              Number(a),
              Number(b),
            ]),
          )
          const xs = points.map(([each]) => each ?? 0)
          const ys = points.map(([, each]) => each ?? 0)
          const [left, right] = [Math.min(...xs), Math.max(...xs)]
          return { x: (left + right) / 2, y: (Math.min(...ys) + Math.max(...ys)) / 2, diameter: right - left }
        },
      ),
    }))
}
const lengthOf = ({ from, to }: Line): number => Math.hypot(to[0] - from[0], to[1] - from[1])
// 1 in. is 72 points and 25.4 mm. Sources: ISO 32000-1, 8.3.2.3; international yard and pound agreement of 1959.
const points = (micrometres: number): number => (micrometres / 25_400) * 72

const placesOf = ({ holes }: PreparedSurface): readonly PlacedHole[] =>
  holes.filter(({ x, y, diameterMicrometres }) => x !== null && y !== null && diameterMicrometres !== null)

describe.skipIf(noTools)('the template, measured in the PDF', () => {
  // Hand, and where the strike is for a person at the work. Source: standards.md 11; turned round: common practice.
  test.each([
    ['118', 'M1', 'LHR, outswing, push side', 'left'],
    ['R03', 'M1', 'RHR, outswing, push side', 'right'],
    ['131', 'M1', 'RH, inswing, pull side', 'right'],
    ['126', 'X1', 'RHR, exit device', 'right'],
    ['101', 'X1', 'pair, active leaf', 'left'],
    ['101', 'X2', 'pair, inactive leaf', 'right'],
  ] as const)('%s %s, %s: bars and holes are true to size', async (mark, tag, _what, strikeAt) => {
    const running = await demo()
    const found = await prepared(running, mark)
    const preparation = found.result.preparations.find((each) => each.tag === tag)
    if (preparation === undefined) throw new Error(`${mark} has no ${tag}`)
    for (const surface of preparation.surfaces) expect(surface.strikeAt).toBe(strikeAt)
    const printed = await running.ask('print.preparation', {
      sheet: 'template',
      of: { openingIds: [(await running.row(mark)).id] },
      only: 'all',
    })
    const pages = marksOf(bytesOf(printed))
    const withBars = pages.filter(({ lines }) =>
      lines.some((line) => Math.abs(lengthOf(line) - 283.46) < 0.02),
    )
    expect(withBars.length).toBeGreaterThan(1)
    for (const { lines } of withBars) {
      // 100 mm across and down, 4 in. across: 283.46 and 288 points.
      expect(lines.filter((line) => Math.abs(lengthOf(line) - 283.46) < 0.02)).toHaveLength(2)
      expect(lines.some((line) => Math.abs(lengthOf(line) - 288) < 0.02)).toBe(true)
    }
    for (const surface of preparation.surfaces) {
      const holes = placesOf(surface)
      const [first, ...rest] = holes
      if (first === undefined) continue
      for (const hole of rest) {
        const sameDrill = (of: PlacedHole) => (circle: PageMarks['circles'][number]) =>
          Math.abs(circle.diameter - points(of.diameterMicrometres ?? 0)) < 0.05
        const across = points((hole.x ?? 0) - (first.x ?? 0)) * (strikeAt === 'right' ? -1 : 1)
        const along =
          points((hole.y ?? 0) - (first.y ?? 0)) * (surface.name.startsWith('frame head') ? -1 : 1)
        // On one sheet or another both stand together, unless they are too far apart for a page.
        if (Math.abs(across) > 400 || Math.abs(along) > 300) continue
        const together = pages.some(({ circles }) =>
          circles
            .filter(sameDrill(first))
            .some((one) =>
              circles
                .filter(sameDrill(hole))
                .some(
                  (other) =>
                    Math.abs(other.x - one.x - across) < 0.05 && Math.abs(other.y - one.y - along) < 0.05,
                ),
            ),
        )
        expect(together, `${surface.name} hole ${hole.number}`).toBe(true)
      }
    }
  })
})

describe.skipIf(noTools)('the preparation sheet, measured in the PDF', () => {
  test.each(['118', 'R03', '131', '101'])(
    '%s: dimension lines have the lengths their scale says',
    async (mark) => {
      const running = await demo()
      const [preparation] = (await prepared(running, mark)).result.preparations
      const printed = await running.ask('print.preparation', {
        sheet: 'preparation',
        of: { openingIds: [(await running.row(mark)).id] },
        only: 'all',
      })
      const lines = marksOf(bytesOf(printed)).flatMap((page) => page.lines)
      // The usual scales for details: 6 in. to 1 ft is 1:2, 3 in. 1:4, 1 1/2 in. 1:8.
      const scales = [2, 4, 8, 12, 16]
      for (const surface of preparation?.surfaces ?? []) {
        const near = placesOf(surface).filter(({ x }) => (x ?? 0) < 16 * 25_400)
        const scale = scales.find((oneTo) =>
          near.every(({ x }) =>
            lines.some((line) => Math.abs(lengthOf(line) - points(x ?? 0) / oneTo) < 0.03),
          ),
        )
        expect(near.length).toBeGreaterThan(0)
        expect(scale, surface.name).toBeDefined()
      }
    },
  )
})
