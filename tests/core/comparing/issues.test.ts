import { describe, expect, test } from 'vitest'
import { keptOfIssues, lastSealed, nextIssueName, sealCommand } from '../../../core/comparing/index.ts'
import { readChapters, usualChapters } from '../../../core/documents/index.ts'
import type { JobData } from '../../../core/job/index.ts'
import { openingCode, plan, readOpeningCode } from '../../../core/schedule/index.ts'
import { counter, smallJob } from '../support/small-job.ts'

const hash = (digit: string): string => digit.repeat(64)
const at = '2026-03-02T08:00:00Z'

function sealed(data: JobData, name: string, twin: string): void {
  const command = sealCommand(data, {
    form: 'handover',
    name,
    at,
    notes: null,
    twinSha256: hash(twin),
    files: [{ name: 'binder.pdf', mediaType: 'application/pdf', sha256: hash('b'), byteCount: 3 }],
  })
  const made = plan(command, data, counter(), { who: 'Ada', at })
  if (!made.ok) throw new Error(made.problems[0]?.sentence)
  data.apply(made.change.edits)
}

describe('issues', () => {
  test('are named by the first free number of their form', () => {
    const data = smallJob()
    expect(nextIssueName(data, 'handover')).toBe('Handover issue 1')
    sealed(data, 'handover ISSUE 1', 'a')
    expect(nextIssueName(data, 'handover')).toBe('Handover issue 2')
    expect(nextIssueName(data, 'schedule')).toBe('Schedule issue 1')
  })

  test('are one change, with who sealed and every file by its hash', () => {
    const data = smallJob()
    sealed(data, 'Handover issue 1', 'a')
    expect(lastSealed(data)).toMatchObject({
      name: 'Handover issue 1',
      who: 'Ada',
      at,
      twinSha256: hash('a'),
    })
    expect([...data.all('issueDocument')]).toMatchObject([
      { name: 'binder.pdf', sha256: hash('b'), position: 0 },
    ])
  })

  test('leave their files out of the next twin, but for bytes that a document of the job refers to too', () => {
    const data = smallJob()
    sealed(data, 'Handover issue 1', 'a')
    expect([...keptOfIssues(data)].toSorted()).toEqual([hash('a'), hash('b')])
    const [one] = data.all('document')
    data.put('document', {
      ...(one ?? {
        form: null,
        mediaType: null,
        byteCount: null,
        reference: null,
        partId: null,
        openingId: null,
        fittingId: null,
        proofId: null,
        visitId: null,
        notes: null,
      }),
      id: 'document-b' as never,
      name: 'The same bytes',
      sha256: hash('b'),
    })
    expect([...keptOfIssues(data)]).toEqual([hash('a')])
  })
})

test.each([
  [null, usualChapters('schedule')],
  [['nothing known'], usualChapters('schedule')],
  [
    ['openings', 'summary', 'openings', 'long gone'],
    ['openings', 'summary'],
  ],
] as const)('chapters chosen as %j', (chosen, wanted) => {
  expect(readChapters(chosen, 'schedule')).toEqual(wanted)
})

test.each([
  [{ number: 'HSC-26', name: 'Harrow' }, '118', 'Lintelbook HSC-26 opening 118'],
  [{ number: null, name: 'Ward block' }, 'ST-04 b', 'Lintelbook Ward block opening ST-04 b'],
])('a label of %j says its opening and is read again', (job, mark, text) => {
  expect(openingCode(job, mark)).toBe(text)
  expect(readOpeningCode(`  ${text.toUpperCase()} `)).toEqual({
    job: (job.number ?? job.name).toUpperCase(),
    mark: mark.toUpperCase(),
  })
  expect(readOpeningCode(`room ${mark}`)).toBeNull()
})
