// Cable list, point list and quantities on paper.
import type { JobData, Units } from '../job/index.ts'
import {
  cableLengthWords,
  cableUnit,
  levelNames,
  levelOf,
  pointsOfController,
  quantities,
  runPage,
  runsInOrder,
  sourceOf,
  writeCableLength,
  type ConductorPage,
  type PointPage,
  type RunPage,
} from '../runs/index.ts'
import { readingWords } from '../settings/index.ts'
import type { Block, DocumentBlocks, TableRow } from './blocks.ts'
import { sheetColumn, sheetOfJob } from './document-of-job.ts'

const notKnown = 'not known'
const written = (parts: readonly (string | null)[], between = ' '): string =>
  parts.filter((each) => each !== null).join(between)

const conductorCells = (each: ConductorPage): readonly string[] => [
  each.colour ?? `conductor ${each.position + 1}`,
  written([
    each.size ?? 'size not known',
    each.stranded === null ? null : each.stranded ? 'stranded' : 'solid',
  ]),
  written([each.role, each.purpose], ', '),
  each.fromTerminal ?? '',
  each.toTerminal ?? '',
]
const noConductor = [notKnown, '', '', '', '']

/** A row for the run with its first conductor, and one for each of the others. */
function cableRows({ row, conductors }: RunPage, units: Units): TableRow[] {
  const length = row.lengthMetres === null ? notKnown : cableLengthWords(row.lengthMetres, units)
  const [first, ...others] = conductors
  return [
    {
      cells: [
        row.name,
        row.from === '' ? notKnown : row.from,
        row.to === '' ? notKnown : row.to,
        row.cable ?? '',
        length,
        ...(first === undefined ? noConductor : conductorCells(first)),
        row.notes ?? '',
      ],
      marks: {
        ...(row.from === '' ? { from: 'not known' as const } : {}),
        ...(row.to === '' ? { to: 'not known' as const } : {}),
        ...(row.lengthMetres === null ? { length: 'not known' as const } : {}),
        ...(first === undefined ? { colour: 'not known' as const } : {}),
      },
    },
    ...others.map((each) => ({ cells: ['', '', '', '', '', ...conductorCells(each), ''], marks: {} })),
  ]
}

const cableColumns = [
  sheetColumn('run', 'Run', 1),
  sheetColumn('from', 'From', 1),
  sheetColumn('to', 'To', 1),
  sheetColumn('cable', 'Cable', 1),
  sheetColumn('length', 'Length', 0, { align: 'right' }),
  sheetColumn('colour', 'Conductor', 1),
  sheetColumn('wire', 'Size', 1),
  sheetColumn('use', 'Use', 1),
  sheetColumn('fromTerminal', 'From terminal', 1),
  sheetColumn('toTerminal', 'To terminal', 1),
  sheetColumn('notes', 'Notes', 1, { priority: 1 }),
]

const wiringCaution =
  'Check each conductor at both ends before power is put on. Wiring is work for licensed people; local codes decide how it is run.'

/** Every run with its conductors, by level or by supply and controller. */
export function cableList(data: JobData, by: 'level' | 'source'): DocumentBlocks {
  const runs = runsInOrder(data)
  const nameOf = levelNames(data)
  const groups = Map.groupBy(runs, (run) =>
    by === 'level'
      ? (nameOf.get(levelOf(data, run) ?? '') ?? 'At no opening')
      : (sourceOf(data, run)?.mark ?? 'From no supply or controller yet'),
  )
  const titles =
    by === 'level'
      ? [...nameOf.values(), 'At no opening'].filter((title) => groups.has(title))
      : [...groups.keys()].toSorted(comparer.compare)
  return sheetOfJob({
    job: data.job,
    title: 'Cable list',
    lines: [by === 'level' ? 'by level' : 'by supply and controller'],
    blocks: [
      { form: 'words', title: null, paragraphs: [], cautions: [wiringCaution] },
      {
        form: 'table',
        title: 'Cable list',
        columns: cableColumns,
        groups: titles.map((title) => {
          const all = groups.get(title) ?? []
          return {
            title,
            within: null,
            countText: all.length === 1 ? '1 run' : `${all.length} runs`,
            rows: all.flatMap(({ id }) => {
              const page = runPage(data, id)
              return page === null ? [] : cableRows(page, data.job.units)
            }),
          }
        }),
        emptyText: 'No runs yet.',
      },
    ],
  })
}

const comparer = new Intl.Collator('en', { numeric: true })

/** "two resistors, 1000 ohm in line, 1000 ohm across". */
export function loopWords({ loopForm, seriesOhms, parallelOhms }: PointPage): string {
  if (loopForm === null) return notKnown
  return [
    loopForm,
    seriesOhms === null ? null : `${seriesOhms} ohm in line`,
    parallelOhms === null ? null : `${parallelOhms} ohm across`,
  ]
    .filter((each) => each !== null)
    .join(', ')
}

/** "contact normally open, energised to release, released in open hours, 5 s". */
export function relayWords({ relay }: PointPage): string {
  if (relay === null) return 'relay: not said'
  const { contact, energised, releasedInOpenHours, unlockSeconds } = relay
  return [
    contact === null ? 'contact not said' : `contact ${contact}`,
    energised === null ? null : `energised ${energised}`,
    releasedInOpenHours === null
      ? null
      : releasedInOpenHours
        ? 'released in open hours'
        : 'locked in open hours',
    unlockSeconds === null ? null : `unlocks for ${unlockSeconds} s`,
  ]
    .filter((each) => each !== null)
    .join(', ')
}

/** What is expected at the terminals in every circumstance, one line each. */
export const expectationLines = ({ loop }: PointPage): string[] =>
  loop === null
    ? []
    : loop.states.map(
        ({ circumstance, meaning, reading }) =>
          `${circumstance}: ${readingWords(reading)}${meaning === 'not known' ? '' : ` (${meaning})`}`,
      )

export function toldApartWords({ loop }: PointPage): string {
  if (loop === null) return ''
  const { answer, pairs, marginPercent } = loop.toldApart
  if (answer === 'yes')
    return marginPercent === null
      ? 'told apart'
      : `told apart, ${Number(marginPercent.toFixed(1))} % to spare`
  const wanted = pairs.filter((pair) => pair.answer === answer)
  const which = wanted.map(({ one, other }) => `${one} and ${other}`).join('; ')
  return answer === 'no' ? `not told apart: ${which}` : `not known: ${which}`
}

/** A row for the point with its first circumstance, and one for each of the others, each with room for a reading. */
function pointRows(point: PointPage): TableRow[] {
  const { name, direction, wiredToFitting, contactName, loop, notes } = point
  const isInput = direction === 'input'
  const troubles = loop === null ? [] : loop.disagreements.map(({ words }) => words)
  const [first, ...others] = expectationLines(point)
  return [
    {
      cells: [
        name,
        direction,
        wiredToFitting === null ? notKnown : written([wiredToFitting, contactName], ', '),
        isInput ? loopWords(point) : relayWords(point),
        first ?? '',
        [isInput ? toldApartWords(point) : '', ...troubles, notes ?? '']
          .filter((each) => each !== '')
          .join('\n'),
        '',
      ],
      marks: {
        ...(wiredToFitting === null ? { wired: 'not known' as const } : {}),
        ...(loop?.toldApart.answer === 'no' || troubles.length > 0 ? { told: 'question' as const } : {}),
      },
    },
    ...others.map((line) => ({ cells: ['', '', '', '', line, '', ''], marks: {} })),
  ]
}

/** Points of one controller, or of all, each from the top of a table, with what a meter shall read. */
export function pointList(data: JobData, controllerId: string | null): DocumentBlocks {
  const controllers = [...data.all('controller')]
    .filter(({ id }) => controllerId === null || id === controllerId)
    .toSorted((one, other) => one.position - other.position)
  return sheetOfJob({
    job: data.job,
    title: 'Point list',
    lines: controllers.length === 1 ? [controllers[0]?.mark ?? ''] : ['all controllers'],
    blocks: [
      {
        form: 'words',
        title: null,
        paragraphs: [
          'Expected at the controller’s terminals with the loop’s wires taken off, cable counted out and back.',
        ],
        cautions: [wiringCaution],
      },
      {
        form: 'table',
        title: 'Points',
        columns: [
          sheetColumn('point', 'Point', 1),
          sheetColumn('direction', 'In or out'),
          sheetColumn('wired', 'Wired to', 1),
          sheetColumn('loop', 'Loop or relay', 2),
          sheetColumn('expected', 'Expected', 3),
          sheetColumn('told', 'States', 2),
          sheetColumn('read', 'Read: ohm, date, initials', 1),
        ],
        groups: controllers.map(({ id, mark, whereText }) => {
          const points = pointsOfController(data, id)
          return {
            title: [mark, whereText].filter((each) => each !== null).join(', '),
            within: null,
            countText: points.length === 1 ? '1 point' : `${points.length} points`,
            rows: points.flatMap(pointRows),
          }
        }),
        emptyText: 'No controllers yet.',
      },
    ],
  })
}

/** Cable by sort and level, with waste. */
export function quantityList(data: JobData): DocumentBlocks {
  const { units } = data.job
  const { cables, wastePercent, conductors, landedEnds, ends } = quantities(data)
  const length = (metres: number | null): string =>
    metres === null ? notKnown : writeCableLength(metres, units)
  const unit = cableUnit(units)
  const block: Block = {
    form: 'table',
    title: 'Quantities of cable',
    columns: [
      sheetColumn('level', 'Level', 2),
      sheetColumn('runs', 'Runs', 0, { align: 'right' }),
      sheetColumn('length', 'Length', 0, { align: 'right', unit }),
      sheetColumn('waste', 'With waste', 0, { align: 'right', unit }),
      sheetColumn('without', 'Not measured', 0, { align: 'right' }),
    ],
    groups: cables.map((cable) => ({
      title: cable.cable,
      within: null,
      countText: `${length(cable.metres)} ${unit}${cable.withoutLength > 0 ? ` and ${cable.withoutLength} not measured` : ''}`,
      rows: [...cable.levels, { ...cable, name: 'In all' }].map((each) => ({
        cells: [
          each.name,
          String(each.runs),
          length(each.metres),
          length(each.withWasteMetres),
          each.withoutLength === 0 ? '' : String(each.withoutLength),
        ],
        marks: {},
      })),
    })),
    emptyText: 'No runs yet.',
  }
  return sheetOfJob({
    job: data.job,
    title: 'Quantities of cable',
    lines: [wastePercent === null ? 'waste not said' : `${wastePercent} % waste`],
    facts: [
      { name: 'Conductors', text: String(conductors) },
      { name: 'Ends landed', text: `${landedEnds} of ${ends}` },
    ],
    blocks: [
      {
        form: 'words',
        title: null,
        paragraphs: ['Runs that nobody measured are not in the lengths.'],
        cautions: [],
      },
      block,
    ],
  })
}
