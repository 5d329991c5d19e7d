// The lists of a binder: what was open, the building in figures, findings, quantities, warranties, calendar, signatures.
import { counted } from '../job/index.ts'
import type { JobDifference } from '../comparing/index.ts'
import type { DueItem, PartQuantity, StandingLine, WarrantyGroup } from '../handover/index.ts'
import type { Job, JobRecord } from '../job/index.ts'
import type { Block, DocumentBlocks, TableRow } from './blocks.ts'
import { sheetColumn, sheetOfJob } from './document-of-job.ts'
import { fewMarks, plainRow, section, tableOf, titledTable } from './handover-words.ts'
import { dayWords } from './schedule-from-rows.ts'

const day = (job: Job, text: string | null): string =>
  text === null ? 'not known' : dayWords(text.slice(0, 10), job.dateForm)

const weightWords: Readonly<Record<StandingLine['weight'], string>> = {
  stop: 'Can hurt someone, or failed',
  question: 'To be settled',
  told: 'Missing',
}

/** What was not proved, failed or not answered when the issue was made. */
export function standingDocument(job: Job, lines: readonly StandingLine[]): DocumentBlocks {
  const groups = (['stop', 'question', 'told'] as const).flatMap((weight) => {
    const rows = lines.filter((line) => line.weight === weight)
    return rows.length === 0
      ? []
      : [
          {
            title: weightWords[weight],
            rows: rows.map(({ sentence, openings }): TableRow => ({
              cells: [sentence, fewMarks(openings.map(({ mark }) => mark))],
              marks:
                weight === 'stop' ? { what: 'broken' } : weight === 'question' ? { what: 'question' } : {},
            })),
          },
        ]
  })
  return sheetOfJob({
    job,
    title: 'What was open',
    lines: [
      'When this was made, as the program had it. A list without lines does not say that a building is safe.',
    ],
    blocks: [
      tableOf(
        'What was open',
        [sheetColumn('what', 'What', 3), sheetColumn('openings', 'Openings', 4)],
        groups,
        'Nothing that the program knows of was open.',
      ),
    ],
  })
}

export interface LevelSummary {
  readonly building: string
  readonly level: string
  readonly openings: number
  readonly proved: number
  readonly fireLabelled: number
  readonly electrified: number
  readonly rooms: number
}

export interface Summary {
  readonly buildings: readonly { readonly name: string; readonly address: string | null }[]
  readonly levels: readonly LevelSummary[]
  readonly typicals: readonly {
    readonly name: string
    readonly description: string | null
    readonly openings: number
  }[]
  readonly supplies: readonly {
    readonly mark: string
    readonly where: string
    readonly outputs: number
    readonly part: string
  }[]
  readonly controllers: readonly {
    readonly mark: string
    readonly where: string
    readonly points: number
    readonly part: string
  }[]
}

export function summaryDocument(job: Job, summary: Summary): DocumentBlocks {
  const { buildings, levels, typicals, supplies, controllers } = summary
  const total = levels.reduce((sum, { openings }) => sum + openings, 0)
  const fired = levels.reduce((sum, { fireLabelled }) => sum + fireLabelled, 0)
  return sheetOfJob({
    job,
    title: 'Building summary',
    lines: buildings.map(({ name, address }) => [name, address].filter((each) => each !== null).join(', ')),
    blocks: [
      {
        form: 'counts',
        counts: [
          { count: total, words: total === 1 ? 'opening' : 'openings' },
          { count: fired, words: fired === 1 ? 'bears a fire label' : 'bear a fire label' },
          { count: supplies.length, words: supplies.length === 1 ? 'supply' : 'supplies' },
          { count: controllers.length, words: controllers.length === 1 ? 'controller' : 'controllers' },
        ],
      },
      tableOf(
        'Levels',
        [
          sheetColumn('level', 'Level', 3),
          sheetColumn('rooms', 'Rooms', 1, { align: 'right' }),
          sheetColumn('openings', 'Openings', 1, { align: 'right' }),
          sheetColumn('fitted', 'With electrified parts', 1, { align: 'right' }),
          sheetColumn('label', 'With a fire label', 1, { align: 'right' }),
          sheetColumn('proved', 'Proved', 1, { align: 'right' }),
        ],
        [...Map.groupBy(levels, ({ building }) => building)].map(([title, rows]) => ({
          title,
          countText: counted(
            rows.reduce((sum, { openings }) => sum + openings, 0),
            'opening',
            'openings',
          ),
          rows: rows.map((row) =>
            plainRow(
              row.level,
              String(row.rooms),
              String(row.openings),
              String(row.electrified),
              String(row.fireLabelled),
              String(row.proved),
            ),
          ),
        })),
        'No levels yet.',
      ),
      ...titledTable(
        'Typicals',
        [
          sheetColumn('name', 'Typical', 2),
          sheetColumn('description', 'What it is', 5),
          sheetColumn('openings', 'Openings', 0, { align: 'right' }),
        ],
        typicals.map(({ name, description, openings }) =>
          plainRow(name, description ?? '', String(openings)),
        ),
        'No typicals.',
      ),
      ...titledTable(
        'Supplies',
        [
          sheetColumn('mark', 'Mark'),
          sheetColumn('part', 'Part', 3),
          sheetColumn('where', 'Where', 3),
          sheetColumn('outputs', 'Outputs', 0, { align: 'right' }),
        ],
        supplies.map(({ mark, part, where, outputs }) => plainRow(mark, part, where, String(outputs))),
        'No supplies.',
      ),
      ...titledTable(
        'Controllers',
        [
          sheetColumn('mark', 'Mark'),
          sheetColumn('part', 'Part', 3),
          sheetColumn('where', 'Where', 3),
          sheetColumn('points', 'Points', 0, { align: 'right' }),
        ],
        controllers.map(({ mark, part, where, points }) => plainRow(mark, part, where, String(points))),
        'No controllers.',
      ),
    ],
  })
}

export interface FindingRow {
  readonly finding: JobRecord<'finding'>
  readonly mark: string | null
}

export function findingsDocument(job: Job, findings: readonly FindingRow[]): DocumentBlocks {
  const rows = (state: 'open' | 'closed'): TableRow[] =>
    findings
      .filter(({ finding }) => finding.state === state)
      .map(({ finding, mark }) => ({
        cells: [
          mark ?? '',
          finding.words,
          finding.owner ?? 'nobody yet',
          finding.raisedAt === null ? '' : day(job, finding.raisedAt),
          finding.closedAt === null ? '' : day(job, finding.closedAt),
        ],
        marks: state === 'open' ? { words: 'question' } : {},
      }))
  const [open, closed] = [rows('open'), rows('closed')]
  return sheetOfJob({
    job,
    title: 'Findings',
    lines: ['What was found wrong on a proof or a visit, and whose it is.'],
    blocks: [
      tableOf(
        'Findings',
        [
          sheetColumn('opening', 'Opening'),
          sheetColumn('words', 'Finding', 6),
          sheetColumn('owner', 'Whose it is', 2),
          sheetColumn('raised', 'Raised'),
          sheetColumn('closed', 'Closed'),
        ],
        [
          ...(open.length === 0
            ? []
            : [{ title: 'Open', countText: counted(open.length, 'finding', 'findings'), rows: open }]),
          ...(closed.length === 0
            ? []
            : [
                {
                  title: 'Closed',
                  countText: counted(closed.length, 'finding', 'findings'),
                  rows: closed,
                },
              ]),
        ],
        'There are no findings.',
      ),
    ],
  })
}

export function quantitiesDocument(job: Job, quantities: readonly PartQuantity[]): DocumentBlocks {
  const groups = [...Map.groupBy(quantities, ({ kind }) => kind ?? 'Part not known')]
  return sheetOfJob({
    job,
    title: 'Quantities and spares',
    lines: ['Parts as fitted. A spare that nobody wrote down is not known, and is not counted as none.'],
    blocks: [
      tableOf(
        'Quantities',
        [
          sheetColumn('part', 'Part', 4),
          sheetColumn('model', 'Model', 1, { priority: 1 }),
          sheetColumn('openings', 'On openings', 0, { align: 'right' }),
          sheetColumn('elsewhere', 'Elsewhere', 0, { align: 'right' }),
          sheetColumn('fitted', 'Fitted', 0, { align: 'right' }),
          sheetColumn('spares', 'Spares', 0, { align: 'right' }),
          sheetColumn('kept', 'Kept where', 2),
        ],
        groups.map(([kind, rows]) => ({
          title: `${kind.charAt(0).toUpperCase()}${kind.slice(1)}`,
          countText: counted(
            rows.reduce((sum, { fitted }) => sum + fitted, 0),
            'fitted',
            'fitted',
          ),
          rows: rows.map((row): TableRow => ({
            cells: [
              row.partName ?? 'not known',
              row.model ?? '',
              String(row.onOpenings),
              row.elsewhere === 0 ? '' : String(row.elsewhere),
              String(row.fitted),
              row.spares === null ? 'not said' : String(row.spares),
              row.kept
                .map(({ count, whereKept, notes }) =>
                  [row.kept.length > 1 ? `${count}` : null, whereKept, notes]
                    .filter((each) => each !== null)
                    .join(' '),
                )
                .join('; '),
            ],
            marks: row.spares === null ? { spares: 'not known' } : {},
          })),
        })),
        'No parts are fitted.',
      ),
    ],
  })
}

export function warrantiesDocument(job: Job, groups: readonly WarrantyGroup[]): DocumentBlocks {
  const known = groups.filter(({ endsOn }) => endsOn !== null)
  const none = groups.filter(({ months }) => months === 0)
  const open = groups.filter(({ endsOn, months }) => endsOn === null && months !== 0)
  const row = (group: WarrantyGroup): TableRow => ({
    cells: [
      group.partName,
      String(group.count),
      group.months === null ? 'not known' : counted(group.months, 'month', 'months'),
      group.startedOn === null ? 'not known' : day(job, group.startedOn),
      group.months === 0 ? 'none' : day(job, group.endsOn),
      fewMarks(group.marks, 16),
    ],
    marks: group.endsOn === null && group.months !== 0 ? { ends: 'not known' } : {},
  })
  return sheetOfJob({
    job,
    title: 'Warranties',
    lines: [
      'A warranty is counted from the day of installation, in calendar months. The contract may count from elsewhere; it decides.',
    ],
    blocks: [
      tableOf(
        'Warranties',
        [
          sheetColumn('part', 'Part', 3),
          sheetColumn('count', 'Number', 0, { align: 'right' }),
          sheetColumn('months', 'Lasts'),
          sheetColumn('from', 'From'),
          sheetColumn('ends', 'Ends'),
          sheetColumn('where', 'On', 4),
        ],
        [
          ...(known.length === 0 ? [] : [{ title: 'With an end', rows: known.map(row) }]),
          ...(open.length === 0 ? [] : [{ title: 'Not known when they end', rows: open.map(row) }]),
          ...(none.length === 0 ? [] : [{ title: 'Without a warranty', rows: none.map(row) }]),
        ],
        'Nothing that is fitted has a part with a warranty.',
      ),
    ],
  })
}

const dueStates = { overdue: 'Overdue', 'to come': 'To come', 'not known': 'Not known when' } as const

export function maintenanceDocument(job: Job, items: readonly DueItem[]): DocumentBlocks {
  const sources = [...new Set(items.flatMap(({ source }) => source ?? []))]
  return sheetOfJob({
    job,
    title: 'Maintenance calendar',
    lines: ['The same goes out as a calendar file (.ics) that any calendar program reads.'],
    blocks: [
      tableOf(
        'Maintenance',
        [
          sheetColumn('due', 'Due'),
          sheetColumn('what', 'What', 3),
          sheetColumn('details', 'More', 6),
          sheetColumn('again', 'Again'),
        ],
        (['overdue', 'to come', 'not known'] as const).flatMap((state) => {
          const rows = items.filter((item) => item.state === state)
          return rows.length === 0
            ? []
            : [
                {
                  title: dueStates[state],
                  countText: counted(rows.length, 'item', 'items'),
                  rows: rows.map((item): TableRow => ({
                    cells: [
                      day(job, item.dueOn),
                      item.title,
                      shortDetails(item),
                      item.everyMonths === null
                        ? 'once'
                        : `every ${counted(item.everyMonths, 'month', 'months')}`,
                    ],
                    marks:
                      state === 'overdue'
                        ? { due: 'broken' }
                        : state === 'not known'
                          ? { due: 'not known' }
                          : {},
                  })),
                },
              ]
        }),
        'Nothing is due: no fire labels, no batteries, no warranties and no tasks are known.',
      ),
      ...(sources.length === 0
        ? []
        : [
            section(
              'Where the intervals come from',
              sources.map((each) => `${each}.`),
            ),
          ]),
    ],
  })
}

/** Marks by the dozen would fill a cell; the first say enough, the opening pages say the rest. */
function shortDetails({ details, questions }: DueItem): string {
  const most = 130
  const text = details === '' ? questions.slice(0, 2).join(' ') : details
  if (text.length <= most) return text
  const cut = text.slice(0, text.lastIndexOf(',', most))
  return `${cut} and more.`
}

const signsWords: Readonly<Record<JobRecord<'signature'>['signsFor'], { title: string; words: string }>> = {
  training: {
    title: 'Training',
    words:
      'The people named below were shown how the openings are used and left in an emergency, how locks are released by hand, what must be tested and how often, and whom to call.',
  },
  acceptance: {
    title: 'Acceptance',
    words:
      'The work in this binder is handed over and taken over, with what is listed as open. Acceptance does not replace an approval by the authority having jurisdiction.',
  },
}

/** Lines to sign on; two are left blank where nobody is named. */
export function signaturesDocument(job: Job, signatures: readonly JobRecord<'signature'>[]): DocumentBlocks {
  const blocks = (['training', 'acceptance'] as const).map((signsFor): Block => {
    const named = signatures
      .filter((each) => each.signsFor === signsFor)
      .toSorted((one, other) => one.position - other.position)
    const { title, words } = signsWords[signsFor]
    return {
      form: 'signatures',
      title,
      paragraphs: [words],
      lines:
        named.length === 0
          ? [
              { role: 'For the client', name: null },
              { role: 'For the one who hands over', name: null },
            ]
          : named.map(({ name, role, company, signedOn }) => ({
              role: [role, company, signedOn === null ? null : `signed ${day(job, signedOn)}`]
                .filter((each) => each !== null && each !== '')
                .join(', '),
              name,
            })),
    }
  })
  return sheetOfJob({ job, title: 'Training and acceptance', lines: [], blocks })
}

export interface AnswerRow {
  readonly question: string
  readonly answer: string
  /** "the job", "Level 2", "opening 118". */
  readonly place: string
  readonly who: string | null
  readonly at: string | null
  readonly notes: string | null
}

/** What was answered and by whom, for the chapter of cautions. */
export function answersDocument(job: Job, answers: readonly AnswerRow[]): DocumentBlocks {
  return sheetOfJob({
    job,
    title: 'Answers given',
    lines: ['What people said, on which the cautions rest.'],
    blocks: [
      tableOf(
        'Answers',
        [
          sheetColumn('question', 'Question', 5),
          sheetColumn('answer', 'Answer', 2),
          sheetColumn('place', 'For', 2),
          sheetColumn('who', 'Said by', 2),
          sheetColumn('when', 'On'),
        ],
        answers.length === 0
          ? []
          : [
              {
                title: '',
                rows: answers.map(({ question, answer, place, who, at, notes }) =>
                  plainRow(
                    question,
                    [answer, notes ?? ''].filter((each) => each !== '').join('. '),
                    place,
                    who ?? '',
                    at === null ? '' : day(job, at),
                  ),
                ),
              },
            ],
        'Nobody has answered a question yet.',
      ),
    ],
  })
}

export interface CautionRow {
  readonly severity: string
  readonly rule: string
  readonly citation: string
  readonly why: string
  readonly marks: readonly string[]
  readonly verdict: 'caution' | 'not known'
}

/** Every rule that is not kept or not known, with the openings it is about. */
export function cautionsListDocument(
  job: Job,
  rows: readonly CautionRow[],
  codes: { readonly codeWords: string; readonly words: readonly string[]; readonly pageNote: string },
): DocumentBlocks {
  const group = (verdict: CautionRow['verdict'], title: string) => {
    const found = rows.filter((row) => row.verdict === verdict)
    return found.length === 0
      ? []
      : [
          {
            title,
            countText: counted(found.length, 'line', 'lines'),
            rows: found.map((row): TableRow => ({
              cells: [row.severity, row.rule, row.why, row.citation, fewMarks(row.marks, 18)],
              marks: { severity: row.verdict === 'caution' ? 'broken' : 'question' },
            })),
          },
        ]
  }
  return sheetOfJob({
    job,
    title: 'Cautions',
    lines: ['What the rules say of all openings. What is met or does not apply is not listed.'],
    facts: [{ name: 'Code', text: codes.codeWords }],
    pageNote: codes.pageNote,
    blocks: [
      section(null, [], codes.words),
      tableOf(
        'Cautions',
        [
          sheetColumn('severity', 'If not kept'),
          sheetColumn('rule', 'What is asked for', 3),
          sheetColumn('why', 'What is wrong', 4),
          sheetColumn('citation', 'Citation', 3),
          sheetColumn('openings', 'Openings', 3),
        ],
        [...group('caution', 'Cautions'), ...group('not known', 'Not known: facts are missing')],
        'No rule asks anything that is not met.',
      ),
    ],
  })
}

const changeWords = { added: 'new since', removed: 'no longer there', changed: '' } as const

/** What is otherwise than in an earlier issue, and what follows. */
export function differencesDocument(job: Job, since: string, difference: JobDifference): DocumentBlocks {
  const { openings, job: ofJob } = difference
  const columns = [
    sheetColumn('what', 'What', 3),
    sheetColumn('before', 'Was', 3),
    sheetColumn('after', 'Is', 3),
  ]
  return sheetOfJob({
    job,
    title: 'Differences from the last issue',
    lines: [`Since ${since}`],
    blocks: [
      {
        form: 'counts',
        counts: [
          { count: openings.length, words: openings.length === 1 ? 'opening differs' : 'openings differ' },
        ],
      },
      ...(ofJob.length === 0
        ? []
        : titledTable(
            'The job itself',
            columns,
            ofJob.map(({ what, before, after }) => plainRow(what, before ?? '', after ?? '')),
            '',
          )),
      section('Openings'),
      tableOf(
        'Openings',
        columns,
        openings.map(({ mark, where, change, differences, consequences }) => ({
          title: [mark, where].filter((each) => each !== '').join('  '),
          countText: changeWords[change],
          rows: [
            ...differences.map(({ what, before, after }) => plainRow(what, before ?? '', after ?? '')),
            ...consequences.map((sentence): TableRow => ({
              cells: ['Follows from it', '', sentence],
              marks: { what: 'question' },
            })),
            ...(differences.length + consequences.length === 0
              ? [plainRow(change === 'added' ? 'Added' : 'Removed', '', '')]
              : []),
          ],
        })),
        'No opening differs.',
      ),
    ],
  })
}
