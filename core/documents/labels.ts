// Labels: what each says, and the sheets and rolls they are printed on.

/** How labels lie on a sheet. A roll is a sheet with one label that fills it. */
export interface LabelStock {
  readonly key: string
  /** "30 on letter, 2 5/8 x 1 in". */
  readonly name: string
  readonly pageWidthMicrometres: number
  readonly pageHeightMicrometres: number
  /** From the page's left and top edges to the first label. */
  readonly leftMicrometres: number
  readonly topMicrometres: number
  readonly columns: number
  readonly rows: number
  /** From one label's left edge to the next one's, and from top to top. */
  readonly acrossMicrometres: number
  readonly downMicrometres: number
  readonly labelWidthMicrometres: number
  readonly labelHeightMicrometres: number
}

export interface Label {
  /** How a warning names it: "M1 of 118". */
  readonly name: string
  /** Stands large: the opening's mark, a device's tag, a cable's number. */
  readonly mark: string
  /** Most important first; what finds no room at the smallest size is cut from the end. */
  readonly lines: readonly string[]
  /** Plain text for a code that a phone reads; null prints none. */
  readonly codeText: string | null
}

export interface LabelSheet {
  readonly title: string
  readonly jobName: string
  readonly stock: LabelStock
  /** The first free label of a part-used sheet, counted along the rows from 1. */
  readonly startAt: number
  readonly labels: readonly Label[]
}

const inch = 25_400
const millimetre = 1000

type Grid = Omit<LabelStock, 'key' | 'name'>

const letter = { pageWidthMicrometres: 8.5 * inch, pageHeightMicrometres: 11 * inch }
const a4 = { pageWidthMicrometres: 210 * millimetre, pageHeightMicrometres: 297 * millimetre }

const roll = (key: string, name: string, width: number, height: number): LabelStock => ({
  key,
  name,
  pageWidthMicrometres: width,
  pageHeightMicrometres: height,
  leftMicrometres: 0,
  topMicrometres: 0,
  columns: 1,
  rows: 1,
  acrossMicrometres: width,
  downMicrometres: height,
  labelWidthMicrometres: width,
  labelHeightMicrometres: height,
})

/** Columns and rows in the middle of their page: what is left over is halved into the margins. */
function sheet(
  key: string,
  name: string,
  page: Pick<Grid, 'pageWidthMicrometres' | 'pageHeightMicrometres'>,
  unit: number,
  grid: { columns: number; rows: number; width: number; height: number; across: number; down: number },
): LabelStock {
  const { columns, rows } = grid
  const [width, height, across, down] = [grid.width, grid.height, grid.across, grid.down].map((each) =>
    Math.round(each * unit),
  ) as [number, number, number, number]
  return {
    key,
    name,
    ...page,
    leftMicrometres: Math.round((page.pageWidthMicrometres - across * (columns - 1) - width) / 2),
    topMicrometres: Math.round((page.pageHeightMicrometres - down * (rows - 1) - height) / 2),
    columns,
    rows,
    acrossMicrometres: across,
    downMicrometres: down,
    labelWidthMicrometres: width,
    labelHeightMicrometres: height,
  }
}

/** Usual sheets and rolls. Common practice, no source: measure a sheet against its first print. */
export const labelStocks: readonly LabelStock[] = [
  sheet('letter-30', '30 on letter, 2 5/8 x 1 in', letter, inch, {
    columns: 3,
    rows: 10,
    width: 2.625,
    height: 1,
    across: 2.75,
    down: 1,
  }),
  sheet('letter-10', '10 on letter, 4 x 2 in', letter, inch, {
    columns: 2,
    rows: 5,
    width: 4,
    height: 2,
    across: 4.1875,
    down: 2,
  }),
  sheet('letter-80', '80 on letter, 1 3/4 x 1/2 in', letter, inch, {
    columns: 4,
    rows: 20,
    width: 1.75,
    height: 0.5,
    across: 2.05,
    down: 0.5,
  }),
  sheet('a4-21', '21 on A4, 63.5 x 38.1 mm', a4, millimetre, {
    columns: 3,
    rows: 7,
    width: 63.5,
    height: 38.1,
    across: 66,
    down: 38.1,
  }),
  sheet('a4-14', '14 on A4, 99.1 x 38.1 mm', a4, millimetre, {
    columns: 2,
    rows: 7,
    width: 99.1,
    height: 38.1,
    across: 101.6,
    down: 38.1,
  }),
  sheet('a4-65', '65 on A4, 38.1 x 21.2 mm', a4, millimetre, {
    columns: 5,
    rows: 13,
    width: 38.1,
    height: 21.2,
    across: 40.6,
    down: 21.2,
  }),
  roll('roll-2x1', 'Roll, 2 x 1 in', 2 * inch, inch),
  roll('roll-62x29', 'Roll, 62 x 29 mm', 62 * millimetre, 29 * millimetre),
  roll('roll-cable', 'Roll for cables, 24 x 12 mm', 24 * millimetre, 12 * millimetre),
]
