// Cable, conductor, point and quantity lists as plain tables, for workbooks and CSV.
import type { JobData } from '../job/index.ts'
import {
  cableUnit,
  levelNames,
  levelOf,
  pointsOfController,
  quantities,
  runPage,
  runsInOrder,
  writeCableLength,
} from '../runs/index.ts'
import { expectationLines, toldApartWords } from './runs-lists.ts'

/** A table of plain values; columns give their width in characters. */
export interface PlainTable {
  readonly name: string
  readonly columns: readonly {
    readonly heading: string
    readonly width: number
    readonly form: 'text' | 'number'
  }[]
  readonly rows: readonly (readonly (string | number | null)[])[]
}

const text = (heading: string, width: number) => ({ heading, width, form: 'text' }) as const
const number = (heading: string, width = 12) => ({ heading, width, form: 'number' }) as const
const strandedWord = (stranded: boolean | null): string | null =>
  stranded === null ? null : stranded ? 'stranded' : 'solid'

/** One row a run. The headings are those of the sheet, so that the table can be pasted back. */
export function cableTable(data: JobData): PlainTable {
  const { units } = data.job
  const names = levelNames(data)
  return {
    name: 'Cable list',
    columns: [
      text('Name', 22),
      text('From', 18),
      text('To', 18),
      text('Cable', 26),
      number('Conductors'),
      text('Size', 10),
      text('Solid or stranded', 12),
      number(`Length ${cableUnit(units)}`),
      text('Notes', 30),
      text('Level', 20),
      text('Supply or controller', 14),
    ],
    rows: runsInOrder(data).flatMap((run) => {
      const page = runPage(data, run.id)
      if (page === null) return []
      const { row, sourceMark } = page
      const { lengthMetres } = row
      return [
        [
          row.name,
          row.from,
          row.to,
          row.cable,
          row.count,
          row.size,
          strandedWord(row.stranded),
          lengthMetres === null ? null : Number(writeCableLength(lengthMetres, units)),
          row.notes,
          names.get(levelOf(data, run) ?? '') ?? null,
          sourceMark,
        ],
      ]
    }),
  }
}

/** One row a conductor. */
export function conductorTable(data: JobData): PlainTable {
  return {
    name: 'Conductors',
    columns: [
      text('Run', 22),
      number('Conductor'),
      text('Colour', 12),
      text('Size', 10),
      text('Solid or stranded', 12),
      text('Use', 10),
      text('Purpose', 20),
      text('From', 18),
      text('From terminal', 14),
      text('To', 18),
      text('To terminal', 14),
    ],
    rows: runsInOrder(data).flatMap((run) => {
      const page = runPage(data, run.id)
      return (page?.conductors ?? []).map((each) => [
        run.name,
        each.position + 1,
        each.colour,
        each.size,
        strandedWord(each.stranded),
        each.role,
        each.purpose,
        page?.row.from ?? '',
        each.fromTerminal,
        page?.row.to ?? '',
        each.toTerminal,
      ])
    }),
  }
}

/** One row a point, with what is expected at its terminals. */
export function pointTable(data: JobData): PlainTable {
  const controllers = [...data.all('controller')].toSorted((one, other) => one.position - other.position)
  return {
    name: 'Points',
    columns: [
      text('Controller', 12),
      text('Point', 22),
      text('In or out', 10),
      text('Wired to', 16),
      text('Contact', 16),
      text('Loop', 14),
      number('Ohm in line'),
      number('Ohm across'),
      text('Relay contact', 16),
      text('Energised', 12),
      number('Unlocks for s'),
      text('Expected', 60),
      text('States', 30),
      text('Where they disagree', 50),
    ],
    rows: controllers.flatMap(({ id, mark }) =>
      pointsOfController(data, id).map((point) => [
        mark,
        point.name,
        point.direction,
        point.wiredToFitting,
        point.contactName,
        point.loopForm,
        point.seriesOhms,
        point.parallelOhms,
        point.relay?.contact ?? null,
        point.relay?.energised ?? null,
        point.relay?.unlockSeconds ?? null,
        expectationLines(point).join('; '),
        toldApartWords(point),
        point.loop?.disagreements.map(({ words }) => words).join(' ') ?? '',
      ]),
    ),
  }
}

/** One row a sort of cable and level. */
export function quantityTable(data: JobData): PlainTable {
  const unit = cableUnit(data.job.units)
  const { cables, wastePercent } = quantities(data)
  const length = (metres: number | null): number | null =>
    metres === null ? null : Number(writeCableLength(metres, data.job.units))
  return {
    name: 'Quantities',
    columns: [
      text('Cable', 28),
      text('Level', 22),
      number('Runs'),
      number(`Length ${unit}`),
      number(`With ${wastePercent ?? '?'} % waste ${unit}`, 18),
      number('Runs not measured', 16),
    ],
    rows: cables.flatMap(({ cable, levels }) =>
      levels.map((each) => [
        cable,
        each.name,
        each.runs,
        length(each.metres),
        length(each.withWasteMetres),
        each.withoutLength,
      ]),
    ),
  }
}
