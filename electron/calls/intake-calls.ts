// Taking in: read, show what was understood, take corrections, and write it as one change when the person accepts.
import {
  done,
  refused,
  type Answer,
  type Handlers,
  type IntakeChoices,
  type IntakePreview,
  type LintelbookContract,
} from '../../core/contract/index.ts'
import {
  compareWithJob,
  noChoices,
  pastedSheet,
  planTakeIn,
  readPlainFile,
  rememberMatching,
  type PlainFile,
  type RememberedMatching,
} from '../../core/exchange/index.ts'
import { problemSentence, readFileInWorker } from '../intake/index.ts'
import type { JobFile } from '../store/index.ts'
import { commit } from './change-calls.ts'
import { noJob, withFile, type Desk } from './desk.ts'

type IntakeCalls = Pick<
  Handlers<LintelbookContract>,
  'intake.file' | 'intake.paste' | 'intake.choose' | 'intake.accept' | 'intake.drop'
>

const intakeGone = () =>
  refused('intake-gone', 'This take-in is no longer at hand. Take the file in again; nothing was written.')
const nothingThere = () =>
  refused(
    'nothing-there',
    'No rows were found in what was pasted; expected a heading row and at least one opening.',
  )

export const intakeCalls = (desk: Desk): IntakeCalls => ({
  'intake.file': async ({ fileName, base64 }) => {
    const { file } = desk
    if (file === null) return noJob()
    const read = await readFileInWorker(fileName, Buffer.from(base64, 'base64'))
    if (!read.ok) return refused(read.problem.code, problemSentence(read.problem))
    // Another job was opened while this was read: it must not come up beside the wrong one.
    if (desk.file !== file) return intakeGone()
    return begin(desk, fileName, read.file)
  },
  'intake.paste': ({ text }) => {
    const sheet = pastedSheet(text)
    if (sheet.rows.length === 0) return nothingThere()
    return begin(desk, 'Pasted rows', { form: 'sheets', sheets: [sheet], warnings: [] })
  },
  'intake.choose': ({ intakeId, choices }) =>
    withFile(desk, (file) => {
      const intake = desk.intakes.get(intakeId)
      return intake === undefined
        ? intakeGone()
        : done(preview(desk, file, intakeId, intake.fileName, intake.file, choices))
    }),
  'intake.accept': ({ intakeId, choices, decisions }) =>
    withFile(desk, (file) => {
      const intake = desk.intakes.get(intakeId)
      if (intake === undefined) return intakeGone()
      const seen = preview(desk, file, intakeId, intake.fileName, intake.file, choices)
      const { change } = planTakeIn({
        understanding: seen.understanding,
        comparison: seen.comparison,
        decisions,
        data: file.data,
        newId: desk.options.newId,
        file: intake.fileName,
      })
      const answer = commit(desk, file, change, [], [])
      if (!answer.ok) return answer
      desk.intakes.drop(intakeId)
      rememberMatchings(desk, seen)
      return answer
    }),
  'intake.drop': ({ intakeId }) => {
    desk.intakes.drop(intakeId)
    return done({})
  },
})

function begin(desk: Desk, fileName: string, plain: PlainFile): Answer<IntakePreview> {
  return withFile(desk, (file) => {
    const intakeId = desk.options.newId()
    desk.intakes.add(intakeId, { fileName, file: plain })
    return done(preview(desk, file, intakeId, fileName, plain, noChoices))
  })
}

function preview(
  desk: Desk,
  file: JobFile,
  intakeId: string,
  fileName: string,
  plain: PlainFile,
  choices: IntakeChoices,
): IntakePreview {
  const reading = readPlainFile(plain, {
    units: file.data.job.units,
    choices,
    remembered: desk.keeping.matchings(),
  })
  return {
    ...reading,
    intakeId,
    fileName,
    choices,
    comparison: compareWithJob(reading.understanding, file.data),
  }
}

/** Corrected columns are proposed again when the same headings come back. */
function rememberMatchings(desk: Desk, seen: IntakePreview): void {
  for (const sheet of seen.sheets) {
    // Columns without headings say nothing about the next file that happens to be as wide.
    if (!sheet.chosen || sheet.matching.headerRows.length === 0) continue
    if (!sheet.matching.columns.some((column) => column.because === 'corrected')) continue
    const remembered: RememberedMatching = rememberMatching(sheet.matching)
    desk.keeping.rememberMatching(remembered)
  }
}
