// npm test: everything. Looks first for what the tests need, installs it where it may, builds, runs, and counts.
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import path from 'node:path'
import { buildStale } from '../../electron/packaging/build.ts'
import { thisMachine } from '../../electron/machine.ts'
import { lacksElectron, lacksOpenData } from './skipping-reasons.ts'
import { debianCommand, missingNeeds } from './needs.ts'
import { root, run, runTool } from './tool.ts'

const outputFolder = path.join(root, 'tests/output')
const resultsFile = path.join(outputFolder, 'results.json')

interface Results {
  readonly numPassedTests: number
  readonly numFailedTests: number
  readonly numPendingTests: number
  readonly numTodoTests: number
}

const mayInstall = () => process.getuid?.() === 0 && existsSync('/etc/debian_version')

async function bringWhatIsMissing(): Promise<boolean> {
  const packages = missingNeeds().map(({ debianPackage }) => debianPackage)
  if (packages.length > 0 && mayInstall()) {
    console.log(`Installing ${packages.join(', ')} ...`)
    await run('apt-get', ['update', '-q'])
    const words = debianCommand(packages).split(' ').slice(1)
    const { code, output } = await run('apt-get', words, {
      environment: { DEBIAN_FRONTEND: 'noninteractive' },
    })
    if (code !== 0) console.log(output.trim())
  }
  const missing = missingNeeds()
  for (const { name, why } of missing) console.log(`Missing: ${name} (${why}).`)
  if (missing.length === 0) return true
  console.log(`On Debian: sudo ${debianCommand(missing.map(({ debianPackage }) => debianPackage))}`)
  if (thisMachine().platform === 'darwin')
    console.log('On macOS: brew install --cask chromium; brew install poppler qpdf')
  return false
}

const sayWhatIsSkipped = () => {
  for (const lack of [lacksOpenData(), lacksElectron()])
    if (lack !== null) console.log(`Some tests will be skipped: ${lack}.`)
}

function summary(): string {
  if (!existsSync(resultsFile)) return 'The tests ended without results.'
  const results = JSON.parse(readFileSync(resultsFile, 'utf8')) as Results
  const skipped = results.numPendingTests + results.numTodoTests
  return `${results.numPassedTests} passed, ${results.numFailedTests} failed, ${skipped} skipped`
}

async function testEverything(): Promise<number> {
  if (!(await bringWhatIsMissing())) return 1
  mkdirSync(outputFolder, { recursive: true })
  rmSync(resultsFile, { force: true })
  if (await buildStale()) console.log('Built dist/')
  sayWhatIsSkipped()
  const { code } = await runTool(
    'vitest',
    'vitest',
    [
      'run',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${resultsFile}`,
      ...process.argv.slice(2),
    ],
    { shown: true },
  )
  console.log(summary())
  return code
}

process.exitCode = await testEverything()
