// Paper of power: a sheet for each supply with its tree and volts, all batteries with their working, a riser for each building.
import type { Job, JobData } from '../job/index.ts'
import {
  cableWords,
  figure,
  outputPage,
  powerOverview,
  supplyPage,
  voltsFigureWords,
  type DeviceFigure,
  type JobPower,
  type OutputPage,
  type SupplyPage,
  type SupplyPower,
} from '../power/index.ts'
import type { Block, CellMark, DocumentBlocks, TableRow } from './blocks.ts'
import { sheetColumn, sheetOfJob } from './document-of-job.ts'
import type { RiserFigureInput } from './power-riser.ts'

/** Stands on each sheet of power. */
export const wordsOfPower = 'Worked out, not measured. Local codes and licensed practice decide.'

const amount = (value: number | null, decimals: number, unit: string): string =>
  value === null ? 'not known' : `${figure(value, decimals)} ${unit}`

const row = (cells: readonly string[], marks: Readonly<Record<string, CellMark>> = {}): TableRow => ({
  cells,
  marks,
})
const oneGroup = (rows: readonly TableRow[]) => [{ title: '', within: null, countText: null, rows }]

const markOf = (verdict: string): CellMark | null =>
  verdict === 'not met' ? 'broken' : verdict === 'not known' ? 'question' : null
const marked = (
  ...pairs: readonly (readonly [key: string, verdict: string])[]
): Readonly<Record<string, CellMark>> =>
  Object.fromEntries(
    pairs.flatMap(([key, verdict]) => {
      const mark = markOf(verdict)
      return mark === null ? [] : [[key, mark]]
    }),
  )

/** The sheet of one supply. Null where it is no longer there. */
export function powerSheet(data: JobData, job: JobPower, power: SupplyPower): DocumentBlocks | null {
  const page = supplyPage(data, power)
  if (page === null) return null
  const outputs = power.supply.outputs.flatMap(({ id, loads, runs }) =>
    loads.length + runs.length === 0 ? [] : (outputPage(data, job, id) ?? []),
  )
  const { line } = page
  return sheetOfJob({
    job: data.job,
    title: `Power sheet, ${line.mark}`,
    lines: [line.where].filter((each) => each !== ''),
    facts: supplyFacts(page),
    pageNote: wordsOfPower,
    blocks: [
      ...troublesBlock(page),
      outputsTable(page),
      ...outputs.flatMap((each) => outputBlocks(each)),
      { form: 'words', title: 'Battery', paragraphs: page.battery.lines, cautions: [] },
      { form: 'words', title: 'Load and heat', paragraphs: [...page.loading, ...page.heat], cautions: [] },
      ...questionsBlock(page.questions),
    ],
  })
}

const supplyFacts = ({ line }: SupplyPage): readonly { readonly name: string; readonly text: string }[] => [
  {
    name: 'Rated',
    text: `${amount(line.ratedVolts, 0, 'V')}, ${amount(line.load.ratedAmps, 1, 'A')}`,
  },
  { name: 'Holding', text: loadWords(line.load.holdingAmps, line.load.ratedAmps) },
  { name: 'Worst moment', text: loadWords(line.load.worstAmps, line.load.ratedAmps) },
  { name: 'Battery', text: batteryWords(line.battery) },
]

const loadWords = (amps: number | null, rated: number | null): string =>
  amps === null
    ? 'not known'
    : `${figure(amps, 2)} A${rated === null ? '' : `, ${figure((amps / rated) * 100, 0)} %`}`

/** "40 Ah, lasts 9.8 h of 4 h wanted". */
export function batteryWords(battery: SupplyPage['line']['battery']): string {
  const { has, ampHours, lastsHours, endless, wantedHours } = battery
  if (has === false) return 'none'
  const lasts = endless ? 'nothing draws on it' : `lasts ${amount(lastsHours, 1, 'h')}`
  return `${amount(ampHours, 0, 'Ah')}, ${lasts}${wantedHours === null ? '' : ` of ${wantedHours} h wanted`}`
}

const troublesBlock = ({ line, remedies }: SupplyPage): readonly Block[] =>
  line.troubles.length === 0
    ? []
    : [
        {
          form: 'words',
          title: 'Not met',
          paragraphs: remedies.map(({ sentence }) => sentence),
          cautions: line.troubles.map(({ sentence }) => sentence),
        },
      ]

const questionsBlock = (questions: SupplyPage['questions']): readonly Block[] =>
  questions.length === 0
    ? []
    : [
        {
          form: 'words',
          title: 'Not known yet',
          paragraphs: questions.map(({ sentence, who }) => `${sentence} Asked of ${who}.`),
          cautions: [],
        },
      ]

const right = { align: 'right' } as const

function outputsTable({ line }: SupplyPage): Block {
  return {
    form: 'table',
    title: `Outputs of ${line.mark}`,
    columns: [
      sheetColumn('output', 'Output', 1),
      sheetColumn('holding', 'Holding', 0, { ...right, unit: 'A' }),
      sheetColumn('worst', 'Worst moment', 0, { ...right, unit: 'A' }),
      sheetColumn('rated', 'Rated', 0, { ...right, unit: 'A' }),
      sheetColumn('fuse', 'Fuse', 0, { ...right, unit: 'A' }),
      sheetColumn('class2', 'Class 2'),
      sheetColumn('devices', 'Devices', 0, right),
      sheetColumn('lowest', 'Lowest volts', 2),
    ],
    groups: oneGroup(
      line.outputs.map((each) =>
        row(
          [
            each.fullName,
            plain(each.load.holdingAmps, 2),
            plain(each.load.worstAmps, 2),
            plain(each.load.ratedAmps, 1),
            each.fuse.amps === 'none' ? 'none' : plain(each.fuse.amps, 1),
            each.classTwo === 'does not apply' ? 'not wired as' : each.classTwo,
            String(each.devices),
            each.lowest === null ? '' : `${plain(each.lowest.volts, 2)} at ${each.lowest.name}`,
          ],
          marked(
            ['holding', each.load.withinLimit],
            ['worst', each.load.withinRating],
            ['fuse', each.fuse.verdict],
            ['class2', each.classTwo],
            ['lowest', each.lowest?.verdict ?? 'met'],
          ),
        ),
      ),
    ),
    emptyText: 'No outputs yet.',
  }
}

const plain = (value: number | null, decimals: number): string =>
  value === null ? '?' : figure(value, decimals)

function outputBlocks(page: OutputPage): readonly Block[] {
  const { line } = page
  return [
    {
      form: 'table',
      title: `${line.fullName}: cable and devices`,
      columns: [
        sheetColumn('place', line.fullName, 3),
        sheetColumn('run', 'Run', 2),
        sheetColumn('wire', 'Wire', 1),
        sheetColumn('length', 'Length', 0, right),
        sheetColumn('amps', 'Current', 0, { ...right, unit: 'A' }),
        sheetColumn('drop', 'Lost', 0, { ...right, unit: 'V' }),
        sheetColumn('nominal', 'Nominal', 0, { ...right, unit: 'V' }),
        sheetColumn('worst', 'Worst', 0, { ...right, unit: 'V' }),
        sheetColumn('battery', 'Battery end', 0, { ...right, unit: 'V' }),
        sheetColumn('margin', 'Margin', 0, { ...right, unit: 'V' }),
      ],
      groups: oneGroup(page.tree.slice(1).map((each) => treeRow(page, each))),
      emptyText: 'Nothing hangs on this output yet.',
    },
    ...(page.figure === null
      ? []
      : [
          {
            form: 'figure' as const,
            title: `${line.fullName}: volts along the run`,
            figure: { kind: 'volts' as const, input: page.figure },
            size: { widthPoints: 690, heightPoints: 250 },
            trueSize: false,
            textAlternative: voltsFigureWords(page.figure),
            pageCaution: null,
          },
        ]),
    ...(page.remedies.length === 0
      ? []
      : [
          {
            form: 'words' as const,
            title: 'Put right by',
            paragraphs: page.remedies.map(({ deed, gives }) => `${deed}: ${gives}.`),
            cautions: [],
          },
        ]),
    ...page.faults.map((each): Block => ({ form: 'words', title: null, paragraphs: [], cautions: [each] })),
  ]
}

function treeRow({ devices, units }: OutputPage, each: OutputPage['tree'][number]): TableRow {
  const here = devices.filter(({ load }) => each.loads.includes(load))
  const volts = (of: (device: OutputPage['devices'][number]) => DeviceFigure | null): string =>
    here.map((device) => plain(of(device)?.volts ?? null, 2)).join(' ')
  const margins = here.flatMap(({ worst, battery }) => [
    worst?.marginVolts ?? null,
    battery?.marginVolts ?? null,
  ])
  const known = margins.filter((margin) => margin !== null)
  return row(
    [
      `${'– '.repeat(Math.max(0, each.depth - 1))}${each.placeName}`,
      each.runName ?? '',
      each.wire ?? '?',
      each.lengthMetres === null ? '?' : cableWords(each.lengthMetres, units),
      plain(each.amps, 3),
      plain(each.dropVolts, 2),
      volts(({ nominal }) => nominal),
      volts(({ worst }) => worst),
      volts(({ battery }) => battery),
      known.length === 0 ? '' : figure(Math.min(...known), 2),
    ],
    marked(['margin', each.verdict ?? 'met']),
  )
}

/** All batteries of the job, each with its working. */
export function batterySheet(data: JobData, job: JobPower): DocumentBlocks {
  const overview = powerOverview(data, job)
  const pages = job.supplies.flatMap((power) => supplyPage(data, power) ?? [])
  return sheetOfJob({
    job: data.job,
    title: 'Battery sheet',
    lines: [
      `Ageing ${overview.inForce.ageingPercent} %, cable from ${overview.inForce.coolestCelsius} to ${overview.inForce.warmestCelsius} °C`,
    ],
    pageNote: wordsOfPower,
    blocks: [
      {
        form: 'table',
        title: 'Batteries',
        columns: [
          sheetColumn('supply', 'Supply'),
          sheetColumn('where', 'Where', 1),
          sheetColumn('has', 'Fitted', 0, { ...right, unit: 'Ah' }),
          sheetColumn('needs', 'Required', 0, { ...right, unit: 'Ah' }),
          sheetColumn('stock', 'Next size sold', 0, { ...right, unit: 'Ah' }),
          sheetColumn('lasts', 'Lasts', 0, { ...right, unit: 'h' }),
          sheetColumn('wanted', 'Wanted', 0, { ...right, unit: 'h' }),
          sheetColumn('verdict', 'Verdict'),
        ],
        groups: oneGroup(
          pages.map(({ line }) =>
            row(
              [
                line.mark,
                line.where,
                line.battery.has === false ? 'none' : plain(line.battery.ampHours, 0),
                plain(line.battery.requiredAmpHours, 2),
                line.battery.stockAmpHours === null ? '?' : `${line.battery.stockAmpHours}`,
                line.battery.endless ? 'no end' : plain(line.battery.lastsHours, 1),
                plain(line.battery.wantedHours, 0),
                line.battery.verdict,
              ],
              marked(['verdict', line.battery.verdict]),
            ),
          ),
        ),
        emptyText: 'No supplies yet.',
      },
      ...pages.map(({ line, battery, remedies }): Block => ({
        form: 'words',
        title: `${line.mark}, ${line.where}`,
        paragraphs: [
          ...battery.lines,
          ...battery.questions.map(({ sentence, who }) => `${sentence} Asked of ${who}.`),
        ],
        cautions: line.battery.verdict === 'not met' ? remedies.map(({ sentence }) => sentence) : [],
      })),
    ],
  })
}

/** The riser diagram of one building. */
export function riserSheet(job: Job, input: RiserFigureInput): DocumentBlocks {
  return sheetOfJob({
    job,
    title: `Riser diagram, ${input.building}`,
    lines: [
      `${input.supplies.length} ${input.supplies.length === 1 ? 'supply' : 'supplies'}; outputs with their openings, in brackets the length of each run, ? where it is not known`,
    ],
    pageNote: wordsOfPower,
    blocks: [
      {
        form: 'figure',
        title: null,
        figure: { kind: 'riser', input },
        size: 'fit',
        trueSize: false,
        textAlternative: riserWords(input),
        pageCaution: null,
      },
    ],
  })
}

const riserWords = ({ supplies, levels }: RiserFigureInput): string =>
  supplies
    .map(({ mark, where, feeds }) => {
      const fed = feeds.map(({ levelId, lines }) => {
        const level = levels.find(({ id }) => id === levelId)?.name ?? ''
        return `${level}: ${lines.join('; ')}`
      })
      return `${mark}, ${where}, feeds ${fed.join('. ') || 'nothing yet'}.`
    })
    .join(' ')
