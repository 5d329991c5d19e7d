// What can go wrong with a job file, and the sentence a person gets for it.
import type { Holder } from './lock.ts'

/** Each code with what its sentence needs to say. `file` is the name as people see it. */
export type StoreProblem =
  | { readonly code: 'missing'; readonly file: string }
  | { readonly code: 'exists'; readonly file: string }
  | { readonly code: 'folder'; readonly file: string }
  | { readonly code: 'empty'; readonly file: string }
  | { readonly code: 'not-a-job'; readonly file: string }
  | { readonly code: 'newer'; readonly file: string }
  | { readonly code: 'edited-migration'; readonly file: string; readonly migration: string }
  | { readonly code: 'altered'; readonly file: string; readonly what: string }
  | { readonly code: 'damaged'; readonly file: string; readonly detail: string }
  | {
      readonly code: 'truncated'
      readonly file: string
      readonly bytes: number
      readonly expectedBytes: number
    }
  | { readonly code: 'unfinished'; readonly file: string }
  | { readonly code: 'no-permission'; readonly file: string }
  | { readonly code: 'name-too-long'; readonly file: string }
  | { readonly code: 'disk-full'; readonly file: string }
  | { readonly code: 'busy'; readonly file: string }
  | { readonly code: 'unreachable'; readonly file: string; readonly detail: string }
  | { readonly code: 'no-backup'; readonly file: string; readonly detail: string }
  | { readonly code: 'no-backup-today'; readonly file: string; readonly detail: string }
  | {
      readonly code: 'upgrade-failed'
      readonly file: string
      readonly migration: string
      readonly detail: string
    }
  | { readonly code: 'held'; readonly file: string; readonly holder: Holder }
  | { readonly code: 'no-lock'; readonly file: string; readonly detail: string }
  | { readonly code: 'read-only'; readonly file: string }
  | { readonly code: 'gone'; readonly file: string }
  | { readonly code: 'overtaken'; readonly file: string }
  | { readonly code: 'closed'; readonly file: string }
  | { readonly code: 'open-here'; readonly file: string }
  | { readonly code: 'no-backups'; readonly file: string }
  | { readonly code: 'nothing-to-salvage'; readonly file: string; readonly detail: string }
  | {
      readonly code: 'conflict'
      readonly kind: string
      readonly id: string
      readonly field: string | null
      readonly detail: string
    }
  | {
      readonly code: 'bad-record'
      readonly kind: string
      readonly id: string
      readonly field: string | null
      readonly detail: string
    }
  | { readonly code: 'nothing-to-undo' }
  | { readonly code: 'nothing-to-redo' }
  | { readonly code: 'attachment-missing'; readonly sha256: string }
  | { readonly code: 'attachment-damaged'; readonly sha256: string }
  | { readonly code: 'twin'; readonly sentence: string }

export type StoreProblemCode = StoreProblem['code']

export type StoreResult<T> =
  | ({ readonly ok: true } & T)
  | { readonly ok: false; readonly problem: StoreProblem; readonly sentence: string }

/** A refusal with its sentence. */
export const refuse = (
  problem: StoreProblem,
): { readonly ok: false; readonly problem: StoreProblem; readonly sentence: string } => ({
  ok: false,
  problem,
  sentence: problemSentence(problem),
})

const where = (problem: { kind: string; id: string; field: string | null }): string =>
  `${problem.kind} ${problem.id}${problem.field === null ? '' : `, field ${problem.field}`}`

/** One sentence, for a person, that says what is wrong and what can be done. */
export function problemSentence(problem: StoreProblem): string {
  switch (problem.code) {
    case 'missing':
      return `There is no file ${problem.file} at this place.`
    case 'exists':
      return `There already is a file ${problem.file}; nothing was written over it.`
    case 'folder':
      return `${problem.file} is a folder, not a job file.`
    case 'empty':
      return `${problem.file} is empty, so there is no job in it; look for a backup beside it.`
    case 'not-a-job':
      return `${problem.file} is not a Lintelbook job file; it was left as it is.`
    case 'newer':
      return `${problem.file} was written by a newer Lintelbook; update the program to open it.`
    case 'edited-migration':
      return `${problem.file} was made with a different form of step ${problem.migration}, so this program cannot vouch for it; it was left as it is.`
    case 'altered':
      return `The tables in ${problem.file} are not as Lintelbook made them (${problem.what}); it was left as it is.`
    case 'damaged':
      return `${problem.file} is damaged (${problem.detail}); it was left as it is: restore the newest backup, or repair it into a new file.`
    case 'truncated':
      return `${problem.file} was cut short: ${problem.bytes} of ${problem.expectedBytes} bytes are there; fetch it again, restore the newest backup, or repair it into a new file.`
    case 'unfinished':
      return `Saving ${problem.file} was interrupted; open it once from where it can be written, and it puts itself right.`
    case 'no-permission':
      return `This machine does not let you read ${problem.file}.`
    case 'name-too-long':
      return `The name ${problem.file} is too long to write anything beside it; give the file a shorter name.`
    case 'disk-full':
      return `There is no room left on the disk for ${problem.file}; the last change was not kept, everything before it was.`
    case 'busy':
      return `Another program is busy with ${problem.file}; try again in a moment.`
    case 'unreachable':
      return `${problem.file} cannot be reached (${problem.detail}); the last change was not kept, everything before it was.`
    case 'no-backup':
      return `${problem.file} was not upgraded, because no backup could be made first (${problem.detail}).`
    case 'no-backup-today':
      return `Today's backup of ${problem.file} could not be made (${problem.detail}); the job itself is open and fine.`
    case 'upgrade-failed':
      return `${problem.file} could not be upgraded at step ${problem.migration} (${problem.detail}); it is as it was.`
    case 'held':
      return `${problem.holder.name} has had ${problem.file} open on ${problem.holder.machine} since ${problem.holder.since}; you can read it meanwhile.`
    case 'no-lock':
      return `${problem.file} can only be read here, because nothing can be written beside it (${problem.detail}).`
    case 'read-only':
      return `${problem.file} is open for reading only; the change was not made.`
    case 'gone':
      return `${problem.file} was moved, deleted or replaced while it was open, so your last change was not made; put it back, or open it anew.`
    case 'overtaken':
      return `Another program changed ${problem.file} meanwhile, so your last change was not made; the job was read again.`
    case 'closed':
      return `${problem.file} is closed; the change was not made.`
    case 'open-here':
      return `${problem.file} is open in this program; close it first.`
    case 'no-backups':
      return `There is no backup of ${problem.file} beside it.`
    case 'nothing-to-salvage':
      return `Nothing can be read from ${problem.file} (${problem.detail}); it was left as it is, restore the newest backup instead.`
    case 'conflict':
      return `The change does not fit what is there now (${where(problem)}: ${problem.detail}); nothing was changed.`
    case 'bad-record':
      return `The change was refused (${where(problem)}: ${problem.detail}); nothing was changed.`
    case 'nothing-to-undo':
      return 'There is nothing to undo.'
    case 'nothing-to-redo':
      return 'There is nothing to redo.'
    case 'attachment-missing':
      return `The bytes of attachment ${problem.sha256.slice(0, 12)} are not in the file.`
    case 'attachment-damaged':
      return `The attachment ${problem.sha256.slice(0, 12)} is not what was put in; its bytes no longer match their hash.`
    case 'twin':
      return problem.sentence
  }
}
