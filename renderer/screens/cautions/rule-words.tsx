// A rule as the margin explains it: what is asked for, where it stands, what is left to the reader.
import type { RuleWords } from '../../../core/cautions/index.ts'
import { severityWords } from '../../../core/documents/index.ts'
import { Citation, MarginText } from '../../ui/index.ts'

export function RuleInMargin({ rule }: { readonly rule: RuleWords }) {
  return (
    <>
      <MarginText>
        {rule.sentence} <i>{severityWords[rule.severity]}.</i>
      </MarginText>
      <Citation>
        {[...rule.citations, rule.standing].join(' · ')} Left to the reader: {rule.leftToReader.join(' ')}
      </Citation>
    </>
  )
}
