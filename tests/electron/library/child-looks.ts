// A second process: looks through a folder and says as one line what it could not read and what it found.
import path from 'node:path'
import { openLibrary } from '../../../electron/library/index.ts'

const [home = '', jobs = ''] = process.argv.slice(2)
const library = openLibrary({ home, folders: [jobs], now: () => '2026-11-25T09:00:00Z', log: () => {} })
const { files, trouble } = await library.refresh()
const sentences = Object.fromEntries(files.map((file) => [path.basename(file.path), file.sentence]))
const found = library.search('op1', 5).map(({ jobName }) => jobName)
process.stdout.write(`${JSON.stringify({ sentences, found, trouble })}\n`)
await library.close()
