// npm run bench: how quick it is, beside what it should be. Ends well whatever the figures say.
import os from 'node:os'
import { parseArgs } from 'node:util'
import { measureDoorways } from './doorways-bench.ts'
import { measureLibrary } from './library-bench.ts'
import { isMet, tableOf, type BenchLine } from './lines.ts'
import { fullBench, measure } from './measure.ts'
import { measurePaper } from './paper-bench.ts'
import { measurePower } from './power-bench.ts'

const usage = `Usage: npm run bench -- [--parts NAMES] [--openings NUMBER] [--edits NUMBER] [--opens NUMBER] [--no-print] [--no-office]

  --parts NAMES       some of window, doorways, power, library, paper, with commas; all when left out
  --openings NUMBER   how many openings the job has; 10,000 when left out
  --edits NUMBER      how many edits are typed in the window; 80 when left out
  --opens NUMBER      how often the file is opened; 3 when left out
  --no-print          leaves out the PDF
  --no-office         leaves out LibreOffice`

const { values } = parseArgs({
  options: {
    parts: { type: 'string', default: 'window,doorways,power,library,paper' },
    openings: { type: 'string', default: String(fullBench.openings) },
    edits: { type: 'string', default: String(fullBench.edits) },
    opens: { type: 'string', default: String(fullBench.opens) },
    'no-print': { type: 'boolean', default: false },
    'no-office': { type: 'boolean', default: false },
    help: { type: 'boolean', short: 'h', default: false },
  },
})

const load = (): string => (os.loadavg()[0] ?? 0).toFixed(1)

if (values.help) console.log(usage)
else {
  const before = load()
  const options = {
    ...fullBench,
    openings: Number(values.openings),
    edits: Number(values.edits),
    opens: Number(values.opens),
    print: !values['no-print'],
    office: !values['no-office'],
  }
  const measures: Readonly<Record<string, () => readonly BenchLine[] | Promise<readonly BenchLine[]>>> = {
    window: () => measure(options, (line) => console.log(line)),
    doorways: () => measureDoorways(options.openings),
    power: () => measurePower(),
    library: () => measureLibrary(),
    paper: () => measurePaper(),
  }
  const lines: BenchLine[] = []
  for (const part of values.parts.split(',')) {
    const measurePart = measures[part.trim()]
    if (measurePart === undefined) {
      console.error(`There is no part called ${part}; expected ${Object.keys(measures).join(', ')}.`)
      process.exit(2)
    }
    console.log(`Measuring ${part} …`)
    lines.push(...(await measurePart()))
  }
  const processors = os.cpus().length
  console.log(`\n${tableOf(lines)}\n`)
  console.log(
    `${processors} processors, load ${before} before and ${load()} after, Node ${process.versions.node}`,
  )
  const missed = lines.filter((line) => 'measured' in line && isMet(line) === false).length
  console.log(
    missed === 0 ? 'Every goal is met.' : `${missed} ${missed === 1 ? 'goal is' : 'goals are'} not met.`,
  )
}
