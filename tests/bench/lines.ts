// One line of the bench: what was measured, what it should be at most (or at least), and whether it is.

export interface Line {
  readonly what: string
  readonly measured: number
  readonly unit: 'ms' | 'MB' | 'pages/s' | 's'
  /** Absent: printed beside, to compare. */
  readonly goal?: { readonly atMost: number } | { readonly atLeast: number }
  /** How it came about, in few words. */
  readonly how?: string
}

/** A line without a figure: why something was not measured. */
export interface NotMeasured {
  readonly what: string
  readonly because: string
}

export type BenchLine = Line | NotMeasured

/** Null where there is no goal. */
export const isMet = ({ goal, measured }: Line): boolean | null =>
  goal === undefined ? null : 'atMost' in goal ? measured <= goal.atMost : measured >= goal.atLeast

const figure = (value: number): string =>
  value >= 100 ? Math.round(value).toLocaleString('en') : value >= 10 ? value.toFixed(1) : value.toFixed(2)

const goalWords = ({ goal, unit }: Line): string =>
  goal === undefined
    ? ''
    : 'atMost' in goal
      ? `at most ${figure(goal.atMost)} ${unit}`
      : `at least ${figure(goal.atLeast)} ${unit}`

function cellsOf(line: BenchLine): readonly string[] {
  if ('because' in line) return [line.what, 'not measured', '', '', line.because]
  const met = isMet(line)
  return [
    line.what,
    `${figure(line.measured)} ${line.unit}`,
    goalWords(line),
    met === null ? '' : met ? 'met' : 'NOT MET',
    line.how ?? '',
  ]
}

/** The lines as a table of text. */
export function tableOf(lines: readonly BenchLine[]): string {
  const rows = [['', 'measured', 'goal', '', 'how'], ...lines.map(cellsOf)]
  const widths = [0, 1, 2, 3].map((column) => Math.max(...rows.map((row) => (row[column] ?? '').length)))
  return rows
    .map((row) =>
      row
        .map((cell, column) =>
          column === 1 ? cell.padStart(widths[1] ?? 0) : cell.padEnd(widths[column] ?? 0),
        )
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
}

/** The value below which this share of all lies: 0.5 the middle one, 0.95 nearly all. */
export const share = (values: readonly number[], part: number): number =>
  values.toSorted((one, other) => one - other)[
    Math.min(values.length - 1, Math.floor(values.length * part))
  ] ?? 0
