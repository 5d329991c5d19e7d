// Streams edits into the job it is given, and says after each that it was kept: "kept NUMBER". Runs until it is killed.
import { migrationsFolder, openJobFile } from '../../../electron/store/index.ts'
import { opening } from './small-records.ts'

const [jobPath = '', start = '0', folder = migrationsFolder] = process.argv.slice(2)
const opened = openJobFile(jobPath, {
  who: 'Child',
  now: () => '2026-03-05T13:00:00Z',
  migrationsFolder: folder,
})
if (!opened.ok || opened.file.readOnly) throw new Error(opened.ok ? 'held by somebody' : opened.sentence)
const { file } = opened

const must = (result: { readonly ok: boolean }): void => {
  if (!result.ok) throw new Error(JSON.stringify(result))
}

for (let number = Number(start); ; number++) {
  const record = { ...opening(number) }
  const leaf = {
    id: `leaf-${number}`,
    openingId: record.id,
    position: 0,
    role: 'only',
    widthMicrometres: null,
    material: 'x'.repeat(number % 3 === 0 ? 9000 : 9),
  }
  must(
    file.commit({
      name: `Add ${number}`,
      edits: [
        { does: 'add', kind: 'opening', record },
        { does: 'add', kind: 'leaf', record: leaf },
      ],
    }),
  )
  if (number % 4 === 3) {
    must(file.undo())
    must(file.redo())
  }
  process.stdout.write(`kept ${number}\n`)
}
