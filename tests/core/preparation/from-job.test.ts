import { describe, expect, test } from 'vitest'
import { asId, records, type JobData, type JobRecord, type RecordKind } from '../../../core/job/index.ts'
import { fittingSheet, preparationSheet, templateSheet } from '../../../core/documents/index.ts'
import { doorFromJob, preparationsOf, prepareDoor } from '../../../core/preparation/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'
import { inch, magnet, pairOfDoors, pattern, singleDoor } from './samples.ts'

const put = <K extends RecordKind>(data: JobData, kind: K, record: Record<string, unknown>): void =>
  data.put(kind, records[kind].parse(record) as JobRecord<K>)

const trades = { furnishedBy: null, fittedBy: null, wiredBy: null, terminatedBy: null }

/** The demo job with one opening and one part of our own on it; the demo's own patterns do not matter here. */
function job(): JobData {
  const data = jobDataOf(demoRecords())
  const [like] = data.all('opening')
  const [likePart] = data.all('part')
  if (like === undefined || likePart === undefined) throw new Error('the demo job is empty')
  put(data, 'opening', {
    ...like,
    id: 'door',
    mark: 'T1',
    widthMicrometres: inch(36),
    heightMicrometres: inch(84),
    thicknessMicrometres: inch(1.75),
    hand: 'RHR',
    frameMaterial: 'HM',
    fireLabelMinutes: 0,
    fireLabelClass: null,
    typicalId: null,
    source: null,
  })
  put(data, 'leaf', {
    id: 'leaf',
    openingId: 'door',
    position: 0,
    role: 'only',
    widthMicrometres: null,
    material: 'HM',
  })
  put(data, 'part', { ...likePart, id: 'magnet', name: 'Surface magnet, generic' })
  for (const [position, on] of (['frame', 'door'] as const).entries()) {
    const body = magnet().bodies[position]
    if (body === undefined) throw new Error('a body')
    put(data, 'partBody', { id: `body-${on}`, partId: 'magnet', position, ...body })
    const { name, substrate, notes, holes, edgeMicrometres } = pattern(on, 'hollow metal')
    put(data, 'partPattern', { id: on, partId: 'magnet', position, name, substrate, notes })
    for (const [place, hole] of holes.entries())
      put(data, 'partHole', { ...hole, partPatternId: on, position: place })
    put(data, 'partPatternFit', {
      id: `fit-${on}`,
      partPatternId: on,
      partBodyId: `body-${on}`,
      goesOn: on,
      swing: 'push side',
      leaves: 'either',
      edgeMicrometres,
    })
  }
  put(data, 'fitting', {
    id: 'fitting',
    openingId: 'door',
    leafId: null,
    typicalFittingId: null,
    position: 0,
    tag: 'M1',
    partId: 'magnet',
    leftOut: false,
    ...trades,
    serial: null,
    installedOn: null,
    notes: null,
  })
  const nowhere = {
    typicalFittingId: null,
    fittingId: null,
    partId: null,
    heightMicrometres: null,
    acrossMicrometres: null,
  }
  put(data, 'placement', { ...nowhere, id: 'of-part', partId: 'magnet', place: 'frame head', side: null })
  put(data, 'placement', { ...nowhere, id: 'of-fitting', fittingId: 'fitting', place: null, side: 'egress' })
  return data
}

describe('from the records of a job', () => {
  const data = job()
  const opening = data.get('opening', asId('door'))
  if (opening === undefined) throw new Error('the opening')
  const door = doorFromJob(data, opening)

  test('holes, bodies and placing arrive as they are kept; the nearest word on the place counts', () => {
    const [fitting] = door.fittings
    expect(fitting).toMatchObject({ tag: 'M1', place: 'frame head', side: 'egress', leaf: null })
    expect(fitting?.bodies).toEqual(magnet().bodies)
    expect(fitting?.patterns.map(({ on, swing, bodyName }) => [on, swing, bodyName])).toEqual([
      ['frame', 'push side', 'body'],
      ['door', 'push side', 'armature'],
    ])
    expect(fitting?.patterns.map(({ holes }) => holes)).toEqual([
      pattern('frame', 'hollow metal').holes,
      pattern('door', 'hollow metal').holes,
    ])
  })

  test('the same door in plain data gives the same holes', () => {
    const [made] = preparationsOf(data, 'door')?.preparations ?? []
    const [plain] = prepareDoor(singleDoor()).preparations
    expect(made?.holes).toEqual(plain?.holes)
    // No record keeps the shape of the head, so it is asked for.
    expect(made?.checks.filter(({ verdict }) => verdict === 'not known').map(({ key }) => key)).toEqual([
      'header',
    ])
  })

  test('a pattern that nobody gave a place is never used unasked', () => {
    const silent = job()
    for (const fit of ['fit-frame', 'fit-door']) {
      const record = silent.get('partPatternFit', asId(fit))
      silent.apply([{ does: 'remove', kind: 'partPatternFit', record: record as never }])
    }
    const [made] = preparationsOf(silent, 'door')?.preparations ?? []
    expect(made?.holes).toEqual([])
    expect(made?.checks.map(({ verdict }) => verdict)).toContain('not known')
  })

  test('one pattern kept for frame and door alike is placed once on each, with its own body', () => {
    const shared = job()
    const second = shared.get('partPatternFit', asId('fit-door'))
    shared.apply([
      { does: 'remove', kind: 'partPatternFit', record: second as never },
      ...shared.referring('partHole', 'partPatternId', 'door').map(
        (hole) =>
          ({
            does: 'set',
            kind: 'partHole',
            id: hole.id,
            from: { partPatternId: 'door' },
            to: { partPatternId: 'frame' },
          }) as never,
      ),
    ])
    put(shared, 'partPatternFit', { ...second, partPatternId: 'frame' })
    const [made] = preparationsOf(shared, 'door')?.preparations ?? []
    const [apart] = preparationsOf(data, 'door')?.preparations ?? []
    const place = ({ number, id, x, y }: NonNullable<typeof made>['holes'][number]) => [number, id, x, y]
    expect(made?.holes.map(place).toSorted()).toEqual(apart?.holes.map(place).toSorted())
    expect(made?.surfaces.map(({ bodies }) => bodies.map(({ name }) => name))).toEqual([
      ['body'],
      ['armature'],
    ])
    expect(made?.checks.find(({ key }) => key === 'clearance')?.verdict).toBe('met')
  })

  test('an opening that is gone gives null', () => {
    expect(preparationsOf(data, 'nowhere')).toBeNull()
  })

  test('every opening of the demo job can be prepared', () => {
    for (const each of data.all('opening'))
      for (const prepared of preparationsOf(data, each.id)?.preparations ?? []) {
        if (prepared.holes.length === 0)
          expect(
            prepared.checks.some(({ verdict }) => verdict === 'caution' || verdict === 'not known'),
          ).toBe(true)
        expect(prepared.mayDrill && prepared.checks.some(({ questions }) => questions.length > 0)).toBe(false)
      }
  })
})

describe('sheets', () => {
  const data = job()
  const door = pairOfDoors()
  const result = prepareDoor(door)

  test('the preparation sheet names every hole with its dimensions', () => {
    const { blocks } = preparationSheet(data.job, door, result)
    const cells = blocks.flatMap((block) =>
      block.form === 'table'
        ? block.groups.flatMap(({ rows }) => rows.map((row) => row.cells.join(' | ')))
        : [],
    )
    for (const { holes } of result.preparations)
      for (const hole of holes)
        expect(
          cells.some((row) =>
            row.startsWith(`${hole.number} | ${hole.name} | ${hole.across?.text} from ${hole.across?.from}`),
          ),
        ).toBe(true)
    for (const { title, columns, groups } of blocks.filter((block) => block.form === 'table'))
      for (const { rows } of groups)
        for (const { cells: each } of rows) expect(each.length, title).toBe(columns.length)
  })

  test('each fitting starts a page, and says whether it may be drilled before anything else', () => {
    const { blocks } = preparationSheet(data.job, door, result)
    const heads = blocks.flatMap((block, index) => (block.form === 'title' ? [index] : []))
    expect(heads).toHaveLength(2)
    for (const index of heads) {
      const next = blocks[index + 1]
      expect(next?.form === 'words' ? next.paragraphs[0] : '').toMatch(/^All checks of these 9 holes are met/)
    }
    const unknown = singleDoor({ headSoffitMicrometres: null })
    const words = preparationSheet(data.job, unknown, prepareDoor(unknown)).blocks[1]
    expect(words?.form === 'words' ? words.paragraphs[0] : '').toBe(
      'Do not drill yet: 1 check is not known. See the checks of the preparation sheet.',
    )
  })

  test('a template carries its caution on every page, and is refused while the hand is not known', () => {
    const figures = templateSheet(data.job, door, result).blocks.filter((block) => block.form === 'figure')
    expect(figures).toHaveLength(4)
    for (const figure of figures) {
      expect(figure.trueSize).toBe(true)
      expect(figure.pageCaution).toContain('Do not drill')
    }
    const handless = singleDoor({
      hand: null,
      fittings: [
        magnet({
          patterns: [
            pattern('frame', 'hollow metal', { swing: 'either' }),
            pattern('door', 'hollow metal', { swing: 'either' }),
          ],
        }),
      ],
    })
    const blocks = templateSheet(data.job, handless, prepareDoor(handless)).blocks
    expect(blocks.some((block) => block.form === 'figure')).toBe(false)
  })

  test('the fitting sheet has a row for each step', () => {
    const { blocks } = fittingSheet(data.job, door, result)
    const tables = blocks.filter((block) => block.form === 'table')
    expect(tables.map(({ groups }) => groups[0]?.rows.length)).toEqual(
      result.preparations.map(({ steps }) => steps.length),
    )
  })
})
