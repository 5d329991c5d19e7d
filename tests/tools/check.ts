// npm run check: types, lint, format, guards and quick tests, side by side. One line per step, then what failed.
import { runTool, type Outcome } from './tool.ts'

interface Step {
  readonly name: string
  readonly run: () => Promise<Outcome>
}

const steps: readonly Step[] = [
  { name: 'types', run: () => runTool('typescript', 'tsc', ['-b']) },
  { name: 'lint', run: () => runTool('oxlint', 'oxlint', ['--type-aware']) },
  {
    name: 'format', // Schemas and fixtures in JSON are written by programs.
    run: () => runTool('oxfmt', 'oxfmt', ['--check', '!**/*.json']),
  },
  {
    name: 'guards and quick tests',
    run: () => runTool('vitest', 'vitest', ['run', '--project', 'unit', '--reporter', 'dot']),
  },
]

const lineOf = (name: string, { code, seconds }: Outcome) =>
  `${code === 0 ? 'passed' : 'FAILED'}  ${name}  ${seconds.toFixed(1)} s`

const outcomes = await Promise.all(
  steps.map(async ({ name, run }) => {
    const outcome = await run()
    console.log(lineOf(name, outcome))
    return { name, outcome }
  }),
)

const failed = outcomes.filter(({ outcome }) => outcome.code !== 0)
for (const { name, outcome } of failed) console.log(`\n--- ${name}\n${outcome.output.trim()}`)
console.log(
  failed.length === 0 ? '\nEverything passed.' : `\n${failed.length} of ${steps.length} steps failed.`,
)
process.exitCode = failed.length === 0 ? 0 : 1
