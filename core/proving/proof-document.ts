// The test sheet of an opening: every step with its limits, and room to write what was found.
import { sheetColumn, sheetOfJob, type Block, type DocumentBlocks } from '../documents/index.ts'
import type { Job } from '../job/index.ts'
import type { OpeningProof, ProofLine } from './standing.ts'
import { proofParts, type ProofPart } from './steps.ts'

export const proofPartWords: Readonly<Record<ProofPart, string>> = {
  settings: 'Settings, before anything is switched on',
  volts: 'Volts at the devices',
  loops: 'Loops at the inputs',
  behaviour: 'What the doorway does',
  cautions: 'Seen at the opening',
}

const cautionWords = [
  'Somebody who knows the building stands by while a way out is tried. Local codes and the authority having jurisdiction',
  'decide what must be witnessed; where a licence is asked for, a licensed person does it.',
].join(' ')

const columns = [
  sheetColumn('number', 'No.'),
  sheetColumn('does', 'Do this', 5),
  sheetColumn('expected', 'Expect', 4),
  sheetColumn('reading', 'Read', 1),
  sheetColumn('result', 'Passed or failed', 1),
  sheetColumn('who', 'Date, initials', 2),
]

/** One opening's test sheet. What was found already stands in it. */
export function proofDocument(
  job: Job,
  opening: { readonly mark: string; readonly where: string },
  proof: OpeningProof,
): DocumentBlocks {
  let number = 0
  const groups = proofParts.flatMap((part) => {
    const lines = proof.lines.filter(({ step }) => step.part === part)
    if (lines.length === 0) return []
    return [
      {
        title: proofPartWords[part],
        within: null,
        countText: lines.length === 1 ? '1 step' : `${lines.length} steps`,
        rows: lines.map((line) => ({ cells: cellsOf(line, (number += 1)), marks: {} })),
      },
    ]
  })
  const warnings = [...new Set(proof.lines.flatMap(({ step }) => step.caution ?? []))]
  const blocks: Block[] = [
    { form: 'words', title: null, paragraphs: [], cautions: [cautionWords, ...warnings] },
    {
      form: 'table',
      title: 'Steps',
      columns,
      groups,
      emptyText:
        'Nothing is worked out for this opening yet: it has no fittings, or its doorway cannot be judged.',
    },
    {
      form: 'signatures',
      title: 'Proved',
      paragraphs: [],
      lines: [
        { role: 'Tested by', name: null },
        { role: 'Witnessed by', name: null },
      ],
    },
  ]
  return sheetOfJob({
    job,
    title: `Test sheet, opening ${opening.mark}`,
    lines: [opening.where].filter((each) => each !== ''),
    blocks,
  })
}

function cellsOf({ step, last, state, staleBecause }: ProofLine, number: number): string[] {
  const missing = `Not known yet: ${step.because.join(' ')}`
  const isDone = state === 'passed' || state === 'failed'
  const found = isDone && last !== null ? last : null
  return [
    String(number),
    step.caution === null ? step.does : `${step.does} ${step.caution}`,
    [step.expected ?? missing, staleBecause ?? ''].filter((each) => each !== '').join('\n'),
    found?.reading == null
      ? step.measured === null
        ? ''
        : `      ${step.measured.unit}`
      : `${found.reading} ${found.unit ?? ''}`,
    found?.result ?? '',
    found === null ? '' : [found.at?.slice(0, 10), found.who].filter((each) => each != null).join(' '),
  ]
}
