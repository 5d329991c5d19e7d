// The chapters a binder may have, in the order in which they stand when nobody chose another.

export const chapterKeys = [
  'standing',
  'summary',
  'schedule',
  'openings',
  'power',
  'riser',
  'runs',
  'cautions',
  'findings',
  'quantities',
  'warranties',
  'maintenance',
  'signatures',
  'makers',
  'differences',
] as const
export type ChapterKey = (typeof chapterKeys)[number]

export const chapterTitles: Readonly<Record<ChapterKey, string>> = {
  standing: 'What was open',
  summary: 'Building summary',
  schedule: 'Opening schedule',
  openings: 'Openings',
  power: 'Power and batteries',
  riser: 'Riser',
  runs: 'Cables and points',
  cautions: 'Cautions and answers',
  findings: 'Findings',
  quantities: 'Quantities and spares',
  warranties: 'Warranties',
  maintenance: 'Maintenance calendar',
  signatures: 'Training and acceptance',
  makers: 'Makers’ documents',
  differences: 'Differences from the last issue',
}

export const chapterHelp: Readonly<Record<ChapterKey, string>> = {
  standing: 'What was not proved, failed or not answered when the issue was made.',
  summary: 'Buildings, levels and how many openings of each kind.',
  schedule: 'The opening schedule, on wide pages.',
  openings:
    'A page or more for each opening: elevation, behaviour, sequence, settings, wiring, preparation, proofs, photographs.',
  power: 'Volts, loads and batteries of each supply.',
  riser: 'How supplies, controllers and openings hang together.',
  runs: 'Cables with their conductors, points with their loops.',
  cautions: 'What the rules say, and what was answered by whom.',
  findings: 'What was found wrong, whose it is and whether it is closed.',
  quantities: 'How many of each part are fitted and kept as spares.',
  warranties: 'Until when each part is under warranty.',
  maintenance: 'What has to be done, and when. The same goes out as a calendar file.',
  signatures: 'Lines to sign for training and acceptance.',
  makers: 'The makers’ own documents, bound in or carried inside.',
  differences: 'What is otherwise than in the last issue, and what follows from it.',
}

/** What goes into a schedule issue: enough to coordinate, nothing of what only closeout has. */
const coordination: readonly ChapterKey[] = [
  'standing',
  'summary',
  'schedule',
  'power',
  'riser',
  'runs',
  'cautions',
  'quantities',
  'differences',
]

/** The chapters of an issue where nobody chose. */
export const usualChapters = (form: 'schedule' | 'handover'): readonly ChapterKey[] =>
  form === 'schedule' ? coordination : chapterKeys

/** Chapters that speak of openings; the others are left out where only a part of the job is printed. */
export const chaptersOfPart: readonly ChapterKey[] = [
  'schedule',
  'openings',
  'runs',
  'cautions',
  'findings',
  'makers',
]

/** Known keys, each once, in the order chosen; null and an empty choice are the usual ones. */
export function readChapters(
  chosen: readonly string[] | null,
  form: 'schedule' | 'handover',
): readonly ChapterKey[] {
  const known = [...new Set(chosen ?? [])].flatMap((each) => chapterKeys.find((key) => key === each) ?? [])
  return known.length === 0 ? usualChapters(form) : known
}
