// What somebody takes along to an opening: how it is set, fed and proved, what it should do, and what to check first.
import type { BatteryAge, Warranty } from '../handover/index.ts'
import type { Job, JobRecord } from '../job/index.ts'
import { symptomWords, type Check, type FedDevice, type PersonToAsk, type Symptom } from '../service/index.ts'
import type { FittingSettings } from '../settings/index.ts'
import type { Block, DocumentBlocks, TableRow } from './blocks.ts'
import { conditionWords } from './condition-words.ts'
import { sheetColumn, sheetOfJob } from './document-of-job.ts'
import { gateWords } from './gate.ts'
import type { GateLine } from './gates.ts'

export interface ServiceSheet {
  readonly mark: string
  readonly where: string
  readonly behaviour: readonly GateLine[]
  readonly cannotTell: readonly string[]
  readonly settings: readonly FittingSettings[]
  readonly fed: readonly FedDevice[]
  readonly checks: readonly {
    readonly symptom: Symptom
    readonly caution: string | null
    readonly checks: readonly Check[]
  }[]
  readonly warranties: readonly Warranty[]
  readonly batteries: readonly BatteryAge[]
  readonly findings: readonly JobRecord<'finding'>[]
  readonly people: readonly PersonToAsk[]
  readonly provedAt: string | null
}

/** As many as one reads at the door. */
const mostChecks = 3
/** Findings and visits stand at the head of the sheet. */
const isAtHand = ({ form }: Check): boolean => form !== 'finding' && form !== 'past'

/** What is to be minded with what is printed: each once, and not what the head of the sheet says already. */
function cautionsOf({ checks }: ServiceSheet): string[] {
  const all = new Set(checks.flatMap((each) => printed(each.checks).flatMap(({ caution }) => caution ?? [])))
  const own = [...all].filter((words) => !/bridge/.test(words))
  const whole = own.filter((words) => !own.some((other) => other !== words && other.includes(words)))
  return whole.length === 0 ? [] : [whole.join(' ')]
}

const printed = (checks: readonly Check[]): readonly Check[] => checks.filter(isAtHand).slice(0, mostChecks)

export const serviceCaution =
  'Never bridge a device that lets people out, and do not leave an opening in use that may trap somebody. Work inside supplies and on the fire alarm is for those licensed for it.'

export function serviceDocument(job: Job, sheet: ServiceSheet): DocumentBlocks {
  const open = sheet.findings.filter(({ state }) => state === 'open')
  return sheetOfJob({
    job,
    title: `Service sheet, opening ${sheet.mark}`,
    lines: [sheet.where].filter((each) => each !== ''),
    facts: [
      { name: 'Proved', text: sheet.provedAt?.slice(0, 10) ?? 'not yet' },
      ...sheet.batteries.map(({ mark, installedOn }) => ({
        name: `Battery of ${mark}`,
        text: installedOn ?? 'day not known',
      })),
      { name: 'Warranty', text: warrantyWords(sheet.warranties) },
    ],
    blocks: [
      {
        form: 'words',
        title: null,
        paragraphs: open.map(
          ({ words, raisedAt }) => `Open finding, ${raisedAt?.slice(0, 10) ?? 'no day'}: ${words}`,
        ),
        cautions: [serviceCaution, ...cautionsOf(sheet)],
      },
      settingTable(sheet.settings),
      feedTable(sheet.fed),
      checkTable(sheet),
      behaviourTable(sheet),
      peopleTable(sheet.people),
    ],
  })
}

/** The first that ends says the most; what nobody knows is said. */
export function warrantyWords(list: readonly Warranty[]): string {
  const ends = list.flatMap(({ endsOn }) => endsOn ?? []).toSorted()
  const [first] = ends
  const last = ends.at(-1)
  if (first === undefined) return list.some(({ question }) => question !== null) ? 'not known' : 'none'
  return first === last ? `to ${first}` : `${first} to ${last ?? ''}, by part`
}

const behaviourColumns = [
  sheetColumn('when', 'When', 2),
  sheetColumn('does', 'In | out', 1),
  sheetColumn('latch', 'Latch', 1),
]

function behaviourTable({ behaviour, cannotTell }: ServiceSheet): Block {
  return {
    form: 'table',
    title: 'What it should do, as it stands',
    columns: behaviourColumns,
    groups: [
      {
        title: 'What it should do, as it stands',
        within: null,
        countText: null,
        rows: behaviour.map(({ condition, of, gate, latched }) => ({
          cells: [`${conditionWords[condition]}${of === null ? '' : `, ${of}`}`, gateWords(gate), latched],
          marks: {},
          gates: { does: gate },
        })),
      },
    ],
    emptyText: cannotTell.join(' '),
  }
}

const settingColumns = [
  sheetColumn('device', 'Device', 0),
  sheetColumn('setting', 'Setting', 2),
  sheetColumn('stands', 'Stands at', 2),
  sheetColumn('designed', 'Designed', 2),
  sheetColumn('found', 'Found now', 2),
]

function settingTable(settings: readonly FittingSettings[]): Block {
  const rows = settings.flatMap(({ tag, settings: own, banks }): TableRow[] => {
    const inBanks = new Set(banks.flatMap(({ bank }) => bank.settings))
    return [
      ...own
        .filter(({ setting }) => !inBanks.has(setting.name))
        .map(({ setting, standing, designed, differences }): TableRow => {
          const stands = standing.known ? standing.value : 'not noted'
          const meant = designed.known ? designed.value : 'not known'
          return {
            cells: [tag, setting.name, stands, stands === meant ? 'the same' : meant, ''],
            marks: differences.length > 0 ? { stands: 'own' } : {},
          }
        }),
      ...banks.map(({ bank, readings, differs }): TableRow => {
        const words = ({ state, ...rest }: typeof readings.standing): string =>
          state === 'chosen' && 'meaning' in rest
            ? `${positions(bank.rows.find(({ id }) => id === rest.rowId)?.when ?? {})}: ${rest.meaning}`
            : 'not known'
        return {
          cells: [
            tag,
            `${bank.name}: ${bank.settings.join(', ')}`,
            words(readings.standing),
            words(readings.designed),
            '',
          ],
          marks: differs === null ? {} : { stands: 'own' },
        }
      }),
    ]
  })
  return {
    form: 'table',
    title: 'How it is set',
    columns: settingColumns,
    groups: [{ title: 'How it is set', within: null, countText: null, rows }],
    emptyText: 'Nothing on this opening is set.',
  }
}

/** "on, off", in the order of the bank's switches. */
const positions = (when: Readonly<Record<string, string>>): string => Object.values(when).join(', ')

const feedColumns = [
  sheetColumn('device', 'Device', 0),
  sheetColumn('from', 'Fed from', 3),
  sheetColumn('at', 'Terminals', 1),
  sheetColumn('expected', 'Should have', 2),
  sheetColumn('proved', 'Had when proved', 2),
  sheetColumn('now', 'Reads now', 1),
]

function feedTable(fed: readonly FedDevice[]): Block {
  return {
    form: 'table',
    title: 'Where it is fed',
    columns: feedColumns,
    groups: [
      {
        title: 'Where it is fed',
        within: null,
        countText: null,
        rows: fed.map((device) => ({
          cells: [
            device.tag,
            [fedFromWords(device), device.route.map(({ to, name }) => `${name} to ${to}`).join(', ')]
              .filter((each) => each !== '')
              .join('\n'),
            device.terminals ?? '',
            deviceVoltsWords(device),
            device.proved?.text ?? '',
            '',
          ],
          marks: device.proved?.result === 'failed' ? { proved: 'broken' } : {},
        })),
      },
    ],
    emptyText: 'Nothing on this opening is fed.',
  }
}

/** "PS2 output 1, fuse 3 A, Riser cupboard 1". */
export function fedFromWords({ from, fromController }: FedDevice): string {
  if (from === null) return fromController ?? 'not known'
  const { supply, output, fuse, supplyWhere } = from
  const fused = fuse === 'none' ? 'no fuse' : fuse === null ? null : `fuse ${fuse.amps} A`
  return [`${supply} output ${output}`, fused, supplyWhere].filter((each) => each !== null).join(', ')
}

/** "23.62 V, works from 19.2 to 28.8". */
export function deviceVoltsWords({ expectedVolts, window }: FedDevice): string {
  const worked = expectedVolts === null ? null : `${Number(expectedVolts.toFixed(2))} V`
  const range = window === null ? null : `works from ${window.minimumVolts} to ${window.maximumVolts} V`
  return [worked, range].filter((each) => each !== null).join(', ') || 'not known'
}

const checkColumns = [
  sheetColumn('place', '', 0),
  sheetColumn('look', 'What to look at', 4),
  sheetColumn('expected', 'Right is', 3),
  sheetColumn('found', 'Found', 1),
]

const checkTable = ({ checks }: ServiceSheet): Block => ({
  form: 'table',
  title: 'What to check first',
  columns: checkColumns,
  groups: checks.map(({ symptom, caution, checks: list }) => ({
    title: symptomWords[symptom],
    within: null,
    countText: caution,
    rows: printed(list).map((check, index) => ({
      cells: [String(index + 1), check.look, check.expected ?? check.question ?? '', ''],
      marks: {},
    })),
  })),
  emptyText: 'Nothing here can be worked out from what this job says.',
})

const peopleTable = (people: readonly PersonToAsk[]): Block => ({
  form: 'table',
  title: 'Who can say',
  columns: [
    sheetColumn('who', 'Who can say', 2),
    sheetColumn('about', 'About', 3),
    sheetColumn('reach', 'Reach at', 2),
  ],
  groups: [
    {
      title: 'Who can say',
      within: null,
      countText: null,
      rows: people.map(({ name, about, phone, email }) => ({
        cells: [name, about, [phone, email].filter((each) => each !== null).join(', ')],
        marks: {},
      })),
    },
  ],
  emptyText: 'Nobody is named.',
})
