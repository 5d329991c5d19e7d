// The page of one opening in a binder: all that somebody needs at that door years later.
import type { Job } from '../job/index.ts'
import type { Block, TableRow } from './blocks.ts'
import type { BookIndexEntry, DocumentPart } from './book.ts'
import { conditionWords } from './condition-words.ts'
import { sheetColumn, sheetOfJob } from './document-of-job.ts'
import type { ElevationInput } from './elevation-input.ts'
import type { GateLine } from './gates.ts'
import { plainRow, section, tableOf, titledTable } from './handover-words.ts'

export interface FittingLine {
  readonly tag: string
  readonly part: string
  readonly model: string | null
  readonly serial: string | null
  readonly installed: string | null
  readonly warrantyEnds: string
}

export interface SettingLine {
  readonly tag: string
  readonly setting: string
  /** Null is not known. */
  readonly designed: string | null
  readonly set: string | null
  readonly found: string | null
  /** What the position means, where the part says. */
  readonly means: string | null
  readonly differs: boolean
}

export interface RunLine {
  readonly name: string
  readonly from: string
  readonly to: string
  readonly cable: string | null
  /** Null is not known. */
  readonly length: string | null
  readonly conductors: readonly {
    readonly colour: string | null
    readonly size: string | null
    readonly purpose: string | null
    readonly fromTerminal: string | null
    readonly toTerminal: string | null
  }[]
}

export interface PointLine {
  readonly name: string
  readonly controller: string
  readonly direction: string
  /** The fitting and its contact. */
  readonly joinedTo: string
  /** The form of the loop, or what the relay does. */
  readonly loop: string
  /** What the input reads in each circumstance; empty for an output. */
  readonly readings: readonly { readonly when: string; readonly reading: string; readonly means: string }[]
}

export interface ProvedLine {
  /** The part of the walk it belongs to. */
  readonly part: string
  readonly does: string
  readonly expected: string
  readonly reading: string
  readonly state: string
  readonly whoWhen: string
  readonly isWrong: boolean
}

export interface PhotographLine {
  readonly sha256: string
  readonly caption: string
}

export interface OpeningPageInput {
  readonly mark: string
  /** Where it is, most important first. */
  readonly lines: readonly string[]
  readonly facts: readonly { readonly name: string; readonly text: string }[]
  readonly elevation: ElevationInput
  readonly behaviour: readonly GateLine[]
  readonly sequence: readonly string[]
  readonly arrangement: string | null
  readonly cannotTell: readonly string[]
  /** Rules that are not kept, what can trap someone first. */
  readonly cautions: readonly { readonly severity: string; readonly sentence: string; readonly why: string }[]
  readonly questionsOpen: number
  readonly fittings: readonly FittingLine[]
  readonly settings: readonly SettingLine[]
  /** "118 M1: 23.1 V in the worst case, holding at ...". */
  readonly volts: readonly { readonly name: string; readonly words: string; readonly isWrong: boolean }[]
  readonly runs: readonly RunLine[]
  readonly points: readonly PointLine[]
  /** Drawings and holes; empty where nothing has a pattern. */
  readonly preparation: readonly Block[]
  readonly proved: readonly ProvedLine[]
  readonly findings: readonly string[]
  readonly photographs: readonly PhotographLine[]
  readonly makers: readonly string[]
  readonly notes: string | null
  readonly index: readonly BookIndexEntry[]
}

/** The page, with its lines in the indexes. */
export function openingPart(job: Job, opening: OpeningPageInput): DocumentPart {
  const { mark, lines, facts } = opening
  return {
    form: 'document',
    entry: [mark, lines[0]].filter((each) => each !== undefined && each !== '').join('  '),
    index: opening.index,
    document: sheetOfJob({
      job,
      title: `Opening ${mark}`,
      lines,
      facts,
      blocks: [
        ...cautionWords(opening),
        ...(opening.notes === null ? [] : [section(null, [opening.notes])]),
        { form: 'elevation', title: 'Elevation', input: opening.elevation },
        ...fittingTable(opening),
        ...behaviour(opening),
        ...settings(opening),
        ...wiring(opening),
        ...(opening.preparation.length === 0 ? [] : [section('Preparation'), ...opening.preparation]),
        ...(opening.findings.length === 0 ? [] : [section('Findings', opening.findings)]),
        ...proofs(opening),
        ...photographs(opening),
        ...(opening.makers.length === 0
          ? []
          : [section('Makers’ documents', [`${opening.makers.join('; ')}.`])]),
      ],
    }),
  }
}

function cautionWords({ cautions, questionsOpen }: OpeningPageInput): Block[] {
  const asked =
    questionsOpen === 0
      ? []
      : [
          `${questionsOpen} ${questionsOpen === 1 ? 'question about this opening is' : 'questions about this opening are'} open; see Cautions and answers.`,
        ]
  if (cautions.length === 0 && asked.length === 0) return []
  return [
    section(
      null,
      [],
      [...cautions.map(({ severity, sentence, why }) => `${severity}: ${sentence} ${why}`.trim()), ...asked],
    ),
  ]
}

const fittingTable = ({ fittings }: OpeningPageInput): Block[] =>
  titledTable(
    'What is fitted',
    [
      sheetColumn('tag', 'Tag'),
      sheetColumn('part', 'Part', 4),
      sheetColumn('model', 'Model', 1, { priority: 2 }),
      sheetColumn('serial', 'Serial', 1),
      sheetColumn('installed', 'Installed'),
      sheetColumn('warranty', 'Warranty ends', 0, { priority: 1 }),
    ],
    fittings.map(({ tag, part, model, serial, installed, warrantyEnds }) =>
      plainRow(tag, part, model ?? '', serial ?? '', installed ?? '', warrantyEnds),
    ),
    'Nothing is fitted on this opening.',
  )

function behaviour({ behaviour: rows, arrangement, cannotTell, sequence }: OpeningPageInput): Block[] {
  return [
    {
      form: 'behaviour',
      title: arrangement === null ? 'What it does' : `What it does; way out: ${arrangement}`,
      rows: rows.map(({ condition, of, gate, because }) => ({
        condition: of === null ? conditionWords[condition] : `${conditionWords[condition]}, ${of}`,
        gate,
        because,
      })),
      emptyText: cannotTell.join(' ') || 'What it does was not worked out.',
    },
    ...(sequence.length === 0 ? [] : [section('Sequence of operation', sequence)]),
  ]
}

function settings({ settings: lines }: OpeningPageInput): Block[] {
  if (lines.length === 0) return []
  const hasFound = lines.some(({ found }) => found !== null)
  return [
    section('Settings'),
    tableOf(
      'Settings',
      [
        sheetColumn('tag', 'Tag'),
        sheetColumn('setting', 'Setting', 2),
        sheetColumn('designed', 'As designed', 1),
        sheetColumn('set', 'As set', 2),
        ...(hasFound ? [sheetColumn('found', 'As found', 2)] : []),
        sheetColumn('means', 'What it means', 3, { priority: 1 }),
      ],
      [
        {
          title: '',
          rows: lines.map((line): TableRow => ({
            cells: [
              line.tag,
              line.setting,
              line.designed ?? 'not known',
              line.set ?? 'not noted',
              ...(hasFound ? [line.found ?? ''] : []),
              line.means ?? '',
            ],
            marks: {
              ...(line.designed === null ? { designed: 'not known' as const } : {}),
              ...(line.differs ? { set: 'question' as const } : {}),
            },
          })),
        },
      ],
      'Nothing on this opening is set.',
    ),
  ]
}

function wiring({ runs, points, volts }: OpeningPageInput): Block[] {
  const blocks: Block[] = []
  if (runs.length > 0)
    blocks.push(
      section('Wiring'),
      tableOf(
        'Wiring',
        [
          sheetColumn('number', 'No.', 0, { align: 'right' }),
          sheetColumn('colour', 'Conductor', 2),
          sheetColumn('size', 'Size', 1),
          sheetColumn('for', 'For', 2),
          sheetColumn('from', 'At its beginning', 2),
          sheetColumn('to', 'At its end', 2),
        ],
        runs.map(({ name, from, to, cable, length, conductors }) => ({
          title: `${name}: ${from} to ${to}`,
          countText: [cable, length ?? 'length not known'].filter((each) => each !== null).join(', '),
          rows:
            conductors.length === 0
              ? [plainRow('', 'No conductors are written down.', '', '', '', '')]
              : conductors.map(({ colour, size, purpose, fromTerminal, toTerminal }, at) =>
                  plainRow(
                    String(at + 1),
                    colour ?? '',
                    size ?? '',
                    purpose ?? '',
                    fromTerminal ?? '',
                    toTerminal ?? '',
                  ),
                ),
        })),
        '',
      ),
    )
  if (points.length > 0)
    blocks.push(
      section('Points'),
      tableOf(
        'Points',
        [
          sheetColumn('when', 'When', 2),
          sheetColumn('reading', 'The input reads', 2),
          sheetColumn('means', 'Which means', 2),
        ],
        points.map(({ name, controller, direction, joinedTo, loop, readings }) => ({
          title: [`${name}: ${direction} of ${controller}`, joinedTo]
            .filter((each) => each !== '')
            .join(', '),
          countText: loop,
          rows:
            readings.length === 0
              ? [plainRow(direction === 'output' ? 'An output has no loop.' : 'Not known yet.', '', '')]
              : readings.map(({ when, reading, means }) => plainRow(when, reading, means)),
        })),
        '',
      ),
    )
  if (volts.length > 0)
    blocks.push(
      ...titledTable(
        'Volts in the worst case',
        [sheetColumn('name', 'Device'), sheetColumn('words', 'Worked out', 1)],
        volts.map(({ name, words, isWrong }) => ({
          cells: [name, words],
          marks: isWrong ? { words: 'broken' as const } : {},
        })),
        '',
      ),
    )
  return blocks
}

function proofs({ proved }: OpeningPageInput): Block[] {
  let number = 0
  const groups = [...Map.groupBy(proved, ({ part }) => part)].map(([title, lines]) => ({
    title,
    countText: lines.length === 1 ? '1 step' : `${lines.length} steps`,
    rows: lines.map((line): TableRow => ({
      cells: [String((number += 1)), line.does, line.expected, line.reading, line.state, line.whoWhen],
      marks: line.isWrong ? { state: 'broken' } : line.state === 'passed' ? {} : { state: 'question' },
    })),
  }))
  return [
    section('Proofs'),
    tableOf(
      'Proofs',
      [
        sheetColumn('number', 'No.', 0, { align: 'right' }),
        sheetColumn('does', 'Step', 5),
        sheetColumn('expected', 'Expected', 4),
        sheetColumn('reading', 'Read'),
        sheetColumn('state', 'Result'),
        sheetColumn('who', 'Who, when', 1),
      ],
      groups,
      'Nothing was proved on this opening.',
    ),
  ]
}

function photographs({ photographs: list }: OpeningPageInput): Block[] {
  if (list.length === 0) return []
  return [
    {
      form: 'photographs',
      title: 'Photographs',
      photographs: list.map(({ sha256, caption }) => ({
        key: sha256,
        caption,
        textAlternative: `Photograph: ${caption}`,
      })),
    },
  ]
}
