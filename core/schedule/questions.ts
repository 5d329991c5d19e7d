// Facts a schedule needs that nobody has given yet. A missing fact is a question, never a default.
import type { ScheduleRow } from './rows.ts'

export interface ScheduleQuestion {
  readonly column: 'size' | 'hand' | 'typical' | 'label' | 'leaves'
  /** The question as a person would ask it, and who can usually answer. */
  readonly words: string
  readonly whoCanSay: string
}

/** The open questions of one row, in the order a person would take them. */
export function scheduleQuestions(row: ScheduleRow): ScheduleQuestion[] {
  const questions: ScheduleQuestion[] = []
  if (row.widthMicrometres === null || row.heightMicrometres === null)
    questions.push({
      column: 'size',
      words: 'How wide and how high is the doorway?',
      whoCanSay: 'the door schedule, or a tape on site',
    })
  if (row.hand === null)
    questions.push({
      column: 'hand',
      words: 'Which hand is it, seen from the keyed side?',
      whoCanSay: 'the floor plan together with the keyed side',
    })
  if (row.fireLabelMinutes === null)
    questions.push({
      column: 'label',
      words:
        row.fireLabelClass === 'B'
          ? 'Class B is either 60 or 90 minutes: which does the label say?'
          : 'Does the door bear a fire label, and for how many minutes?',
      whoCanSay: 'the label on the hinge edge, or the code drawings',
    })
  if (row.typicalId === null)
    questions.push({
      column: 'typical',
      words: 'Which typical does it follow?',
      whoCanSay: 'the project manager, with the owner’s security plan',
    })
  return questions
}

/** Whether any question is open; the cheap form for counting 10,000 rows. */
export const hasQuestion = (row: ScheduleRow): boolean =>
  row.widthMicrometres === null ||
  row.heightMicrometres === null ||
  row.hand === null ||
  row.fireLabelMinutes === null ||
  row.typicalId === null
