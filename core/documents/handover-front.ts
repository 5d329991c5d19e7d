// What stands before the chapters of a binder: its cover, who took part, how it is read, and what it cannot decide.
import { evidenceLimit, localAmendments, wordsOfCaution } from '../cautions/index.ts'
import type { Job, JobRecord } from '../job/index.ts'
import type { Block } from './blocks.ts'
import type { BookCover, DocumentPart } from './book.ts'
import { sheetColumn, sheetOfJob } from './document-of-job.ts'
import { plainRow, section, tableOf } from './handover-words.ts'
import { signWords } from './preparation-sheet.ts'
import { scheduleLegend } from './schedule-legend.ts'

export interface BinderHead {
  /** Its heads bear the issue's name and date in place of the schedule's. */
  readonly job: Job
  /** "Handover issue 1"; null for a print that is no issue. */
  readonly issueName: string | null
  readonly dateText: string
  /** "Level 2 only"; null is the whole job. */
  readonly only: string | null
  readonly sealedBy: string | null
  /** What had to be asked before: failures, and what can trap someone. */
  readonly openAtSeal: readonly string[]
}

export const binderTitle = ({ issueName, only }: Pick<BinderHead, 'issueName' | 'only'>): string =>
  only === null && issueName !== null ? 'Handover binder' : 'Binder'

export function binderCover(head: BinderHead, title: string): BookCover {
  const { job, issueName, dateText, only, sealedBy, openAtSeal } = head
  const fact = (name: string, text: string | null): { name: string; text: string }[] =>
    text === null || text.trim() === '' ? [] : [{ name, text }]
  return {
    title,
    lines: [job.name, job.address ?? ''].filter((each) => each !== ''),
    facts: [
      ...fact('Client', job.client),
      ...fact('Job number', job.number),
      ...fact('Issue', issueName ?? 'Not an issue; a print of the job as it stood'),
      ...fact('Date', dateText),
      ...fact('Prepared by', job.preparedBy),
      ...fact('Sealed by', sealedBy),
      ...fact('Shows', only),
    ],
    cautions: [
      ...(openAtSeal.length === 0
        ? []
        : [`When this was made, this was open: ${openAtSeal.join(' ')} See “What was open”.`]),
      'Local codes and the authority having jurisdiction decide what each opening must do. This binder supports that review; it is not a substitute for licensed practice.',
    ],
  }
}

const front = (job: Job, title: string, blocks: readonly Block[]): DocumentPart => ({
  form: 'document',
  entry: title,
  index: [],
  document: sheetOfJob({ job, title, lines: [], blocks }),
})

/** Who took part, as the job keeps its contacts. */
export function partiesPart(job: Job, contacts: readonly JobRecord<'contact'>[]): DocumentPart {
  const rows = contacts.map(({ name, company, role, email, phone, notes }) =>
    plainRow(role ?? '', name, company ?? '', email ?? '', phone ?? '', notes ?? ''),
  )
  return front(job, 'Parties', [
    tableOf(
      'Parties',
      [
        sheetColumn('role', 'Role', 2),
        sheetColumn('name', 'Name', 2),
        sheetColumn('company', 'Company', 2),
        sheetColumn('email', 'E-mail', 2),
        sheetColumn('phone', 'Telephone', 1),
        sheetColumn('notes', 'Notes', 1, { priority: 1 }),
      ],
      rows.length === 0 ? [] : [{ title: '', rows }],
      'The job names no contacts.',
    ),
  ])
}

export function howToReadPart(job: Job, copy: { readonly hasTwin: boolean }): DocumentPart {
  const legend = scheduleLegend(
    {
      labelled: true,
      materialTexts: ['HM', 'WD'],
      handTexts: ['LH', 'RH', 'LHR', 'RHR'],
      marks: new Set(['not known', 'own']),
    },
    [],
  )
  return front(job, 'How to read this binder', [
    section(null, [
      'Each opening has its mark, the number on its door. The index at the end finds an opening by its mark, by its room and by the serial number of anything on it. In a program that shows PDF files, every line of the contents and of the index leads to its page, and the word Contents at the head of each page leads back.',
      'Pages before the first chapter are counted i, ii, iii; the others from 1.',
      'Hands are judged standing at the keyed side, facing the door. In is passage from the keyed side; out is passage from the side that people leave from.',
      'Settings are told apart as designed, as set on the bench, and as found on a visit. A figure that nobody gave is written as not known; it is never taken as zero, and a rule that waits for it is never taken as met.',
    ]),
    {
      form: 'legend',
      title: 'What a doorway does',
      sections: [
        {
          heading: 'In stands at the left, out at the right',
          entries: [
            { sign: { passage: { form: 'free' } }, meaning: 'free' },
            {
              sign: { passage: { form: 'free by hardware', motions: 1 } },
              meaning: 'free by one motion of hardware',
            },
            { sign: { passage: { form: 'waits', seconds: 15 } }, meaning: 'free after so many seconds' },
            { sign: { passage: { form: 'held' } }, meaning: 'held' },
            { sign: { passage: { form: 'not known' } }, meaning: 'not known' },
            {
              sign: { passage: 'trapped' },
              meaning: 'a person cannot get out, and no accepted arrangement covers it',
            },
          ],
        },
      ],
    },
    ...(legend.sections.length > 0 ? [legend] : []),
    section('Drawings of holes', [signWords]),
    section('Files that belong to it', [
      copy.hasTwin
        ? 'The archive copy of this binder carries inside it the whole job as text, what was worked out when it was sealed, the open workbook, the maintenance calendar and the makers’ documents. Earlier issues are not inside; the job file keeps them. The reading copy has the makers’ documents bound in at their place.'
        : 'This is a print, not a sealed issue: it carries no copy of the job.',
      'The code on a label at an opening says the job and the mark in plain words. Scanned or typed into the find box of the program, it opens that opening’s page.',
    ]),
  ])
}

export const codesPart = (job: Job, codeWords: string): DocumentPart =>
  front(job, 'Codes and cautions', [
    section(
      null,
      [`Codes in force as the job has them: ${codeWords}.`],
      [
        wordsOfCaution,
        localAmendments,
        evidenceLimit,
        'A yearly inspection, a test that must be witnessed and any change to a fire door or to a lock in a way out fall under local codes; where a licence is asked for, a licensed person does the work.',
      ],
    ),
  ])
