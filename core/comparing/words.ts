// The words of passages, without those of the screens that show them.
import { passageWords, type Condition, type ConditionResult } from '../behaviour/index.ts'

export const conditionName = ({ name, of }: Condition): string =>
  `${name.charAt(0).toUpperCase()}${name.slice(1)}${of === null ? '' : `, ${of.name}`}`

export const passagesOf = ({ in: into, out }: ConditionResult): string =>
  `in ${passageWords(into)}, out ${passageWords(out)}`
