// Setting sheets: what a person at the bench chooses, with room to tick, and the sheet of many devices set alike.
import type { Job } from '../job/index.ts'
import type { BenchBatch, SettingSheet, SheetFitting, SheetLine } from '../settings/index.ts'
import type { Block, DocumentBlocks, TableRow } from './blocks.ts'
import { sheetColumn, sheetOfJob } from './document-of-job.ts'

const benchCaution =
  'Set and check each device on the bench before it is mounted. The part’s own instructions decide where they say otherwise.'

/** The positions of a setting in one cell, with what they mean; the factory one is marked. */
function positionsText({ positions }: SheetLine): string {
  const texts = positions.map(({ name, meaning, factory }) =>
    [`${name}${factory ? ' (factory)' : ''}`, meaning].filter((each) => each !== null).join(': '),
  )
  return texts.join(positions.some(({ meaning }) => meaning !== null) ? '\n' : ', ')
}

function lineRow(line: SheetLine): TableRow {
  const { setting, unit, notes, choose, remark, question, asSet, asFound } = line
  const chosen = choose ?? 'not known'
  return {
    cells: [
      unit === null || choose?.endsWith(unit) === true ? setting : `${setting}, ${unit}`,
      [chosen, remark ?? '', question?.words ?? ''].filter((each) => each !== '').join('\n'),
      [positionsText(line), notes ?? ''].filter((each) => each !== '').join('\n'),
      asSet ?? '',
      asFound ?? '',
    ],
    marks: choose === null ? { choose: 'not known' } : {},
  }
}

const settingColumns = [
  sheetColumn('setting', 'Setting', 2),
  sheetColumn('choose', 'Choose', 2),
  sheetColumn('positions', 'Positions and what they mean', 4),
  sheetColumn('set', 'As set: value, date, initials', 3),
  sheetColumn('found', 'As found', 2, { priority: 1 }),
]

/** Every fitting with what is set on it. */
const settingTable = (fittings: readonly SheetFitting[]): Block => ({
  form: 'table',
  title: 'Settings',
  columns: settingColumns,
  groups: fittings.map(({ tag, part, model, serial, lines }) => ({
    title: `${tag}: ${[part ?? 'part not known', model].filter((each) => each !== null).join(', ')}`,
    within: null,
    countText: serial === null ? 'serial number: ____________' : `serial ${serial}`,
    rows: lines.map(lineRow),
  })),
  emptyText: 'Nothing on this opening is set.',
})

/** What switches of a bank come to together, with the row that is chosen. */
function bankTables(fittings: readonly SheetFitting[]): Block[] {
  const groups = fittings.flatMap(({ tag, banks }) =>
    banks.map((bank) => ({
      title: `${tag}: ${bank.name}`,
      within: null,
      countText: bank.comesTo,
      rows: bank.rows.map(({ when, meaning, choose }) => ({
        cells: [choose ? 'this' : '', when, meaning],
        marks: {},
      })),
    })),
  )
  if (groups.length === 0) return []
  const columns = [
    sheetColumn('choose', 'Choose'),
    sheetColumn('when', 'Positions together', 2),
    sheetColumn('meaning', 'Mean', 3),
  ]
  return [{ form: 'table', title: 'Banks', columns, groups, emptyText: 'No bank has a table.' }]
}

/** One opening's setting sheet. */
export function settingDocument(job: Job, sheet: SettingSheet, where: string): DocumentBlocks {
  return sheetOfJob({
    job,
    title: `Setting sheet, opening ${sheet.mark}`,
    lines: [where].filter((each) => each !== ''),
    blocks: [
      { form: 'words', title: null, paragraphs: [], cautions: [benchCaution] },
      settingTable(sheet.fittings),
      ...bankTables(sheet.fittings),
      ...(sheet.questions.length === 0
        ? []
        : [
            {
              form: 'words',
              title: 'To be answered first',
              paragraphs: sheet.questions.map(({ words, whoCanSay }) => `${words} Ask ${whoCanSay}.`),
              cautions: [],
            } as const,
          ]),
    ],
  })
}

/** Devices of one part that are set alike, one table each, with a line to tick for every device. */
export function benchDocument(job: Job, batches: readonly BenchBatch[], of: string): DocumentBlocks {
  return sheetOfJob({
    job,
    title: 'Bench sheet',
    lines: [of],
    blocks: [
      { form: 'words', title: null, paragraphs: [], cautions: [benchCaution] },
      ...batches.map(batchBlock),
      ...(batches.length === 0
        ? [{ form: 'words', title: null, paragraphs: ['Nothing here is set.'], cautions: [] } as const]
        : []),
    ],
  })
}

const choicesText = ({ choices }: BenchBatch): string =>
  choices.map(({ name, choose }) => `${name}: ${choose ?? 'not known'}`).join('; ')

const stateWords = {
  'not set': '',
  'partly set': 'partly',
  'as designed': 'as designed',
  differs: '',
} as const

function batchBlock(batch: BenchBatch): Block {
  const { partName, partModel, fittings } = batch
  return {
    form: 'table',
    title: [partName, partModel].filter((each) => each !== null).join(', '),
    columns: [
      sheetColumn('opening', 'Opening', 0),
      sheetColumn('tag', 'Device', 0),
      sheetColumn('serial', 'Serial', 1),
      sheetColumn('noted', 'Noted so far', 3),
      sheetColumn('set', 'Set: date, initials', 2),
    ],
    groups: [
      {
        title: `${partName}: ${choicesText(batch)}`,
        within: null,
        countText: fittings.length === 1 ? '1 device' : `${fittings.length} devices`,
        rows: fittings.map(({ mark, tag, serial, state, otherwise }) => ({
          cells: [mark, tag, serial ?? '', otherwise ?? stateWords[state], ''],
          marks: {},
        })),
      },
    ],
    emptyText: 'No devices.',
  }
}
