// The cautions of the whole job: what is wrong first, then what is not known, by rule or by opening.
import { useMemo, useState } from 'react'
import type { CautionLine, CautionsOverview, RuleWords } from '../../../core/cautions/index.ts'
import { severities } from '../../../core/cautions/index.ts'
import type { CautionsSheetData } from '../../../core/contract/index.ts'
import { severityWords } from '../../../core/documents/index.ts'
import { compareMarks } from '../../../core/job/index.ts'
import {
  Choice,
  EmptySheet,
  Table,
  type TableColumn,
  type TableItem,
  type TableSelection,
} from '../../ui/index.ts'
import { goTo } from '../place.ts'
import type { OpenJob } from '../window-state.ts'
import { point, useCautions, type CautionsState } from './cautions-state.ts'
import { levelName } from './places.ts'

interface Line {
  readonly key: string
  readonly openingId: string
  readonly mark: string
  readonly where: string
  readonly level: string
  readonly place: number
  readonly line: CautionLine
  readonly rule: RuleWords
  /** What is wrong, or what is missing. */
  readonly why: string
}

/** Lower is read first: every caution before what is not known, the gravest first. */
const rankOf = ({ verdict, severity }: CautionLine): number =>
  (verdict === 'caution' ? 0 : 3) + severities.indexOf(severity)

type Filters = Pick<CautionsState, 'severity' | 'verdict' | 'levelId'>

function linesOf(job: OpenJob, data: CautionsOverview, { severity, verdict, levelId }: Filters): Line[] {
  const rules = new Map(data.rules.map((rule) => [rule.key, rule]))
  const asked = new Map(data.questions.map(({ key, sentence }) => [key, sentence]))
  const why = data.lines.map(({ sentences, missing }) =>
    [...sentences, ...missing.flatMap((key) => asked.get(key) ?? [])].join(' '),
  )
  const wanted = data.lines.map(
    (line) =>
      (severity === null || line.severity === severity) && (verdict === null || line.verdict === verdict),
  )
  const levels = new Map(job.frame.levels.map(({ id }) => [id as string, levelName(job, id)]))
  const found: Line[] = []
  for (const [openingId, set] of Object.entries(data.of)) {
    const row = job.rows.get(openingId)
    if (row === undefined || (levelId !== null && row.levelId !== levelId)) continue
    for (const place of data.sets[set] ?? []) {
      const line = data.lines[place]
      const rule = rules.get(line?.rule ?? '')
      if (line === undefined || rule === undefined || wanted[place] !== true) continue
      found.push({
        key: `${openingId} ${place}`,
        openingId,
        mark: row.mark,
        where: row.where,
        level: levels.get(row.levelId) ?? '',
        place,
        line,
        rule,
        why: why[place] ?? '',
      })
    }
  }
  return found
}

const longestTitle = 118

/** A heading has one line; the margin says the whole. */
const clipped = (title: string): string =>
  title.length > longestTitle ? `${title.slice(0, longestTitle).trimEnd()}…` : title

interface Group {
  readonly key: string
  readonly title: string
  readonly lines: readonly Line[]
}

function groupsOf(lines: readonly Line[], group: CautionsState['group']): readonly Group[] {
  const groups = Map.groupBy(lines, (each) =>
    group === 'rule' ? `${rankOf(each.line)} ${each.rule.key}` : each.openingId,
  )
  return [...groups]
    .map(([key, own]) => {
      const [first] = own
      return {
        key,
        first,
        title:
          first === undefined
            ? ''
            : group === 'rule'
              ? clipped(
                  `${severityWords[first.line.severity]}, ${first.line.verdict}: ${first.rule.sentence}`,
                )
              : `${first.mark} ${first.where}`,
        lines: own.toSorted(
          (one, other) => rankOf(one.line) - rankOf(other.line) || compareMarks(one.mark, other.mark),
        ),
      }
    })
    .toSorted((one, other) => {
      const [a, b] = [one.lines[0], other.lines[0]]
      if (a === undefined || b === undefined) return 0
      return (
        rankOf(a.line) - rankOf(b.line) ||
        (group === 'rule' ? other.lines.length - one.lines.length : compareMarks(a.mark, b.mark))
      )
    })
}

/** Folded from the start when there are more lines than anybody reads through. */
const mostUnfolded = 400

const markColumn: TableColumn<Line> = {
  key: 'mark',
  heading: 'Mark',
  width: 74,
  align: 'start',
  frozen: true,
  text: ({ mark }) => mark,
}
const whyColumn: TableColumn<Line> = {
  key: 'why',
  heading: 'What is wrong, or missing',
  width: 320,
  grow: true,
  align: 'start',
  text: ({ why }) => why,
  mark: ({ line }) => (line.verdict === 'caution' ? 'stop' : 'question'),
}

/** What the group's heading says already has no column. */
const columnsIn: Readonly<Record<CautionsState['group'], readonly TableColumn<Line>[]>> = {
  rule: [
    markColumn,
    { key: 'where', heading: 'Where', width: 210, align: 'start', text: ({ where }) => where },
    { key: 'level', heading: 'Level', width: 96, align: 'start', text: ({ level }) => level },
    whyColumn,
  ],
  opening: [
    markColumn,
    { key: 'verdict', heading: 'Verdict', width: 84, align: 'start', text: ({ line }) => line.verdict },
    {
      key: 'severity',
      heading: 'If not kept',
      width: 122,
      align: 'start',
      text: ({ line }) => severityWords[line.severity],
    },
    {
      key: 'rule',
      heading: 'What is asked for',
      width: 300,
      align: 'start',
      text: ({ rule }) => rule.sentence,
    },
    whyColumn,
  ],
}

export function CautionsView({ job, data }: { readonly job: OpenJob; readonly data: CautionsSheetData }) {
  const { group, severity, verdict, levelId } = useCautions()
  const [turned, setTurned] = useState<ReadonlySet<string>>(new Set())
  const [selection, setSelection] = useState<TableSelection | null>(null)
  const groups = useMemo(
    () => groupsOf(linesOf(job, data, { severity, verdict, levelId }), group),
    [job, data, severity, verdict, levelId, group],
  )
  const all = groups.reduce((sum, each) => sum + each.lines.length, 0)
  const folded = all > mostUnfolded
  const { items, byKey } = useMemo(() => {
    const made: TableItem<Line>[] = []
    const found = new Map<string, Line>()
    for (const each of groups) {
      const collapsed = turned.has(each.key) !== folded
      made.push({
        form: 'group',
        key: each.key,
        title: each.title,
        count: each.lines.length,
        level: 1,
        ...(collapsed ? { collapsed } : {}),
      })
      if (collapsed) continue
      for (const line of each.lines) {
        made.push({ form: 'row', key: line.key, row: line })
        found.set(line.key, line)
      }
    }
    return { items: made, byKey: found }
  }, [groups, turned, folded])
  const select = (next: TableSelection): void => {
    setSelection(next)
    if (next.form === 'cells' || next.form === 'rows') {
      const line = byKey.get(next.anchor.rowKey)
      if (line !== undefined) point({ form: 'caution', line: line.place, openingId: line.openingId })
    } else if (next.form === 'group') {
      const first = groups.find(({ key }) => key === next.groupKey)?.lines[0]
      if (first !== undefined)
        point({ form: 'caution', line: first.place, openingId: group === 'rule' ? null : first.openingId })
    }
  }
  return (
    <div className="cautions-list">
      <Filters job={job} count={all} />
      <Table
        label="Cautions"
        items={items}
        columns={columnsIn[group]}
        rowHeight={28}
        selection={selection}
        onSelect={select}
        onOpen={(rowKey) => {
          const line = byKey.get(rowKey)
          if (line !== undefined) goTo({ sheet: 'opening', openingId: line.openingId })
        }}
        onToggle={(key) => {
          const next = new Set(turned)
          if (!next.delete(key)) next.add(key)
          setTurned(next)
        }}
        empty={
          <EmptySheet>
            {severity === null && verdict === null && levelId === null
              ? 'No caution, and nothing that is not known. Local codes and the authority having jurisdiction decide all the same.'
              : 'Nothing answers to what is asked for above.'}
          </EmptySheet>
        }
      />
    </div>
  )
}

const anything = 'all'

function Filters({ job, count }: { readonly job: OpenJob; readonly count: number }) {
  const { group, severity, verdict, levelId } = useCautions()
  return (
    <div className="filter-bar">
      <Choice
        label="Grouped"
        value={group}
        options={[
          { key: 'rule', label: 'by rule' },
          { key: 'opening', label: 'by opening' },
        ]}
        onChange={(key) => useCautions.setState({ group: key as CautionsState['group'] })}
      />
      <Choice
        label="Verdict"
        value={verdict ?? anything}
        options={[
          { key: anything, label: 'both' },
          { key: 'caution', label: 'caution' },
          { key: 'not known', label: 'not known' },
        ]}
        onChange={(key) =>
          useCautions.setState({ verdict: key === anything ? null : (key as CautionsState['verdict']) })
        }
      />
      <Choice
        label="If not kept"
        value={severity ?? anything}
        options={[
          { key: anything, label: 'anything' },
          ...severities.map((each) => ({ key: each, label: severityWords[each].toLowerCase() })),
        ]}
        onChange={(key) =>
          useCautions.setState({ severity: key === anything ? null : (key as CautionsState['severity']) })
        }
      />
      <Choice
        label="Level"
        value={levelId ?? anything}
        options={[
          { key: anything, label: 'all' },
          ...job.frame.levels.map(({ id }) => ({ key: id as string, label: levelName(job, id) })),
        ]}
        onChange={(key) => useCautions.setState({ levelId: key === anything ? null : key })}
      />
      <span className="soft">
        {count} {count === 1 ? 'line' : 'lines'}
      </span>
    </div>
  )
}
