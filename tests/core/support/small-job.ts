// A small job made by hand, for tests: one building with two levels, an annexe, two typicals and ten openings.
import {
  asId,
  JobData,
  recordKinds,
  references,
  type JobRecord,
  type RecordKind,
} from '../../../core/job/index.ts'

type Plain<K extends RecordKind> = { id: string } & Partial<Record<keyof JobRecord<K>, unknown>>

const feet = (whole: number, inches = 0): number => (whole * 12 + inches) * 25_400
const nobody = { furnishedBy: null, fittedBy: null, wiredBy: null, terminatedBy: null }

const job = {
  id: 'job',
  name: 'Harrow Street Clinic',
  number: '24-017',
  client: 'Harrow Street Trust',
  address: null,
  preparedBy: 'R. Example',
  units: 'imperial',
  dateForm: 'iso',
  buildingCode: null,
  loadingLimitPercent: 80,
  scheduleIssue: null,
  scheduleDate: null,
  notes: null,
  createdAt: '2026-01-05T08:00:00Z',
}

export const blankOpening = {
  whereText: null,
  toSpaceId: null,
  fromSpaceId: null,
  widthMicrometres: null,
  heightMicrometres: null,
  thicknessMicrometres: null,
  hand: null,
  doorType: null,
  frameMaterial: null,
  fireLabelMinutes: null,
  fireLabelClass: null,
  hardwareSet: null,
  typicalId: null,
  ...nobody,
  serial: null,
  assetTag: null,
  installedOn: null,
  notes: null,
  sourceId: null,
  source: null,
}

export const blankFitting = {
  leafId: null,
  typicalFittingId: null,
  position: 0,
  tag: null,
  partId: null,
  leftOut: false,
  ...nobody,
  serial: null,
  installedOn: null,
  notes: null,
}

const part = (id: string, kind: string, name: string): Plain<'part'> => ({
  id,
  kind,
  name,
  model: null,
  description: null,
  minimumVolts: null,
  maximumVolts: null,
  loadForm: null,
  holdingAmps: null,
  inrushAmps: null,
  inrushSeconds: null,
  warrantyMonths: null,
  notes: null,
})
const building = (id: string, name: string, position: number): Plain<'building'> => ({
  id,
  name,
  position,
  address: null,
  sourceId: null,
  notes: null,
})
const level = (id: string, buildingId: string, name: string, position: number): Plain<'level'> => ({
  id,
  buildingId,
  name,
  position,
  elevationMetres: null,
  sourceId: null,
})
const space = (id: string, levelId: string, number: string, name: string | null): Plain<'space'> => ({
  id,
  levelId,
  number,
  name,
  sourceId: null,
})
const typical = (id: string, name: string, position: number, more: object): Plain<'typical'> => ({
  id,
  name,
  description: null,
  position,
  ...nobody,
  notes: null,
  ...more,
})
const slot = (id: string, typicalId: string, position: number, tag: string, partId: string, more = {}) => ({
  id,
  typicalId,
  position,
  tag,
  partId,
  ...nobody,
  notes: null,
  ...more,
})
const setting = (id: string, of: object, value: string, stage = 'designed'): Plain<'settingValue'> => ({
  id,
  typicalFittingId: null,
  fittingId: null,
  partSettingId: 'lock-relock',
  stage,
  value,
  who: null,
  at: null,
  visitId: null,
  ...of,
})
const leaf = (openingId: string, position: number, role: string, material: string | null) => ({
  id: `${openingId} leaf ${position + 1}`,
  openingId,
  position,
  role,
  widthMicrometres: null,
  material,
})
const opening = (id: string, levelId: string, mark: string, more = {}): Plain<'opening'> => ({
  id,
  levelId,
  mark,
  ...blankOpening,
  ...more,
})
const fitting = (id: string, openingId: string, more: object): Plain<'fitting'> => ({
  id,
  openingId,
  ...blankFitting,
  ...more,
})

const single = { widthMicrometres: feet(3), heightMicrometres: feet(7) }
const pair = { widthMicrometres: feet(6), heightMicrometres: feet(8) }
const known = { ...single, hand: 'LH', frameMaterial: 'HM', fireLabelMinutes: 0, typicalId: 'store' }

const rows: { readonly [K in RecordKind]?: readonly Plain<K>[] } = {
  job: [job],
  building: [building('main', 'Main', 0), building('annexe', 'Annexe', 1)],
  level: [
    level('ground', 'main', 'Ground', 0),
    level('first', 'main', 'First', 1),
    level('yard', 'annexe', 'Yard', 0),
  ],
  space: [
    space('r101', 'ground', '101', 'Lobby'),
    space('r102', 'ground', '102', 'Café'),
    space('r201', 'first', '201', null),
  ],
  part: [
    part('lock', 'lock', 'Electrified lock'),
    part('reader', 'reader', 'Card reader'),
    part('magnet', 'magnet', 'Door magnet'),
  ],
  partSetting: [
    {
      id: 'lock-relock',
      partId: 'lock',
      position: 0,
      name: 'Relock time',
      form: 'dial',
      unit: 's',
      notes: null,
    },
  ],
  typical: [
    typical('store', 'Store room', 0, { description: 'Lock and reader', fittedBy: 'Integrator' }),
    typical('office', 'Office', 1, { furnishedBy: 'Door supplier' }),
  ],
  typicalFitting: [
    slot('store-lock', 'store', 0, 'L1', 'lock', { wiredBy: 'Electrician' }),
    slot('store-reader', 'store', 1, 'R1', 'reader', { notes: 'At 42 in.' }),
    slot('office-lock', 'office', 0, 'L1', 'lock'),
  ],
  opening: [
    opening('a', 'ground', '101', { ...known, toSpaceId: 'r101', fromSpaceId: 'r102' }),
    opening('b', 'ground', '102', { ...known, toSpaceId: 'r102', hand: 'RHR', notes: 'Hold open' }),
    opening('c', 'ground', '104A', { ...known, ...pair, fireLabelMinutes: 90, fireLabelClass: 'B' }),
    opening('d', 'ground', '10', {
      ...known,
      typicalId: 'office',
      whereText: 'Back door',
      fittedBy: 'Owner',
    }),
    opening('e', 'ground', '2', {}),
    opening('f', 'first', '201', { ...known, fireLabelMinutes: 20, serial: 'SN-9', assetTag: 'T 7' }),
    opening('g', 'first', '202', { typicalId: 'office', hand: 'LHR', fromSpaceId: 'r201' }),
    opening('h', 'first', 'B2-03', { ...known, typicalId: null, furnishedBy: 'Owner' }),
    opening('i', 'yard', '101', { ...known, installedOn: '2026-02-01' }),
    opening('j', 'yard', '102', {
      fireLabelClass: 'B',
      source: { file: 'doors.xlsx', place: 'row 12', cells: { MARK: '102' }, understood: { mark: '102' } },
    }),
  ],
  leaf: [
    ...['a', 'b', 'd', 'e', 'f', 'g', 'h', 'i', 'j'].map((id) =>
      leaf(id, 0, 'only', id === 'a' ? 'WD' : null),
    ),
    leaf('c', 0, 'active', 'HM'),
    leaf('c', 1, 'inactive', 'HM'),
  ],
  fitting: [
    // Only a serial: knowledge, no difference.
    fitting('a-lock', 'a', { typicalFittingId: 'store-lock', serial: 'L-1001' }),
    // A tag of its own, a setting of its own.
    fitting('b-lock', 'b', { typicalFittingId: 'store-lock', tag: 'L9' }),
    // Another part, on the inactive leaf.
    fitting('c-lock', 'c', { typicalFittingId: 'store-lock', partId: 'magnet', leafId: 'c leaf 2' }),
    // Left out, and one added.
    fitting('c-reader', 'c', { typicalFittingId: 'store-reader', leftOut: true }),
    fitting('c-extra', 'c', { tag: 'M1', partId: 'magnet', position: 5 }),
    // Fitted by someone else.
    fitting('i-lock', 'i', { typicalFittingId: 'store-lock', fittedBy: 'Owner' }),
  ],
  visit: [
    {
      id: 'visit',
      openingId: 'a',
      reportedBy: null,
      reportedAt: null,
      symptom: 'Will not lock',
      found: null,
      done: null,
      who: null,
      at: null,
    },
  ],
  settingValue: [
    setting('store-relock', { typicalFittingId: 'store-lock' }, '5'),
    setting('b-relock', { fittingId: 'b-lock' }, '9'),
    setting('a-relock-found', { fittingId: 'a-lock', visitId: 'visit' }, '7', 'found'),
  ],
  supply: [
    {
      id: 'psu',
      mark: 'PS-1',
      position: 0,
      partId: null,
      spaceId: 'r102',
      whereText: null,
      ratedVolts: 24,
      ratedAmps: 4,
      batteryVolts: null,
      batteryAmpHours: null,
      standbyHours: null,
      alarmMinutes: null,
      batteryInstalledOn: null,
      notes: null,
    },
  ],
  output: [
    {
      id: 'psu-1',
      supplyId: 'psu',
      position: 0,
      name: '1',
      ratedVolts: 24,
      ratedAmps: 1,
      fuseAmps: null,
      notes: null,
    },
  ],
  run: [
    {
      id: 'run',
      name: 'W1',
      position: 0,
      fromOutputId: 'psu-1',
      fromFittingId: null,
      fromControllerId: null,
      toOutputId: null,
      toFittingId: 'a-lock',
      toControllerId: null,
      cable: null,
      lengthMetres: 30,
      notes: null,
    },
  ],
  link: [
    // Of a typical, and one of an opening between its own two fittings.
    link('store-link', {
      typicalId: 'store',
      fromTypicalFittingId: 'store-reader',
      toTypicalFittingId: 'store-lock',
    }),
    link('c-link', { openingId: 'c', fromFittingId: 'c-lock', toFittingId: 'c-extra' }),
    link('c-mixed', { openingId: 'c', fromFittingId: 'c-reader', toTypicalFittingId: 'store-reader' }),
  ],
  factAnswer: [
    {
      id: 'fact',
      fact: 'stair door',
      levelId: null,
      typicalId: 'store',
      openingId: null,
      value: 'no',
      who: null,
      at: null,
      notes: null,
    },
  ],
  proof: [
    {
      id: 'proof',
      openingId: 'a',
      fittingId: 'a-lock',
      step: 'Locks',
      condition: null,
      expected: 'holds',
      result: 'passed',
      reading: null,
      unit: null,
      notes: null,
      who: null,
      at: null,
    },
  ],
  finding: [
    {
      id: 'finding',
      openingId: 'a',
      fittingId: 'a-lock',
      proofId: 'proof',
      visitId: 'visit',
      words: 'Strike is bent',
      owner: null,
      state: 'open',
      raisedAt: null,
      closedAt: null,
    },
  ],
}

function link(id: string, more: object): Plain<'link'> {
  return {
    id,
    typicalId: null,
    openingId: null,
    fromTypicalFittingId: null,
    toTypicalFittingId: null,
    fromFittingId: null,
    toFittingId: null,
    partContactId: null,
    does: 'watches',
    notes: null,
    ...more,
  }
}

/** A fresh copy of the small job. */
export function smallJob(): JobData {
  const data = new JobData()
  for (const kind of recordKinds)
    for (const record of rows[kind] ?? []) data.put(kind, structuredClone(record) as never)
  return data
}

/** A job of one building, ten levels and as many openings as asked, a third of them with differences. */
export function largeJob(openings: number): JobData {
  const data = new JobData()
  const put = (kind: RecordKind, record: object): void => data.put(kind, record as never)
  for (const kind of ['job', 'building', 'part', 'typical', 'typicalFitting'] as const)
    for (const record of rows[kind] ?? []) put(kind, structuredClone(record))
  for (let at = 0; at < 10; at += 1) put('level', level(`level ${at}`, 'main', `Level ${at}`, at))
  for (let at = 0; at < openings; at += 1) {
    const id = `opening ${at}`
    put(
      'opening',
      opening(id, `level ${at % 10}`, `${(at % 10) + 1}${String(Math.floor(at / 10)).padStart(3, '0')}`, {
        ...known,
        whereText: `Room ${at}`,
        typicalId: at % 4 === 0 ? 'office' : 'store',
        hand: at % 7 === 0 ? null : 'RH',
      }),
    )
    put('leaf', leaf(id, 0, 'only', 'HM'))
    if (at % 3 === 0)
      put(
        'fitting',
        fitting(`${id} lock`, id, { typicalFittingId: 'store-lock', tag: at % 2 === 0 ? 'L2' : null }),
      )
  }
  return data
}

/** Everything in a job, by kind, each kind sorted by id, so that two jobs can be compared whole. */
export const everything = (data: JobData): Record<string, unknown[]> =>
  Object.fromEntries(
    recordKinds.map((kind) => [
      kind,
      ([...data.all(kind)] as { id: string }[]).toSorted((a, b) => (a.id < b.id ? -1 : 1)),
    ]),
  )

/** References that lead nowhere, in words; none in a whole job. */
export function brokenReferences(data: JobData): string[] {
  const broken: string[] = []
  for (const { from, field, to } of references)
    for (const record of data.all(from) as Iterable<unknown>) {
      const { id, [field]: target } = record as Record<string, unknown>
      if (typeof target === 'string' && data.get(to, target) === undefined)
        broken.push(`${from} ${String(id)}, ${field}: no ${to} ${target}`)
    }
  return broken
}

/** Ids n1, n2 and so on. */
export function counter(): () => string {
  let last = 0
  return () => `n${(last += 1)}`
}

export const openingOf = (data: JobData, id: string): JobRecord<'opening'> => {
  const found = data.get('opening', asId<'opening'>(id))
  if (found === undefined) throw new Error(`no opening ${id}`)
  return found
}
