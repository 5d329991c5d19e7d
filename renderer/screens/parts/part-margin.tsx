import { reachWords } from '../../../core/parts/index.ts'
import { Citation, MarginText, MarginTitle } from '../../ui/index.ts'
import { hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { useExplained } from './part-state.ts'

/** What is under the cursor, in sentences. */
export function ExplainedText() {
  const explained = useExplained((state) => state.explained)
  if (explained === null) return null
  return (
    <>
      <MarginTitle>{explained.title}</MarginTitle>
      {explained.sentences.map((each) => (
        <MarginText key={each}>{each}</MarginText>
      ))}
    </>
  )
}

export function PartMargin({ partId }: { readonly partId: string }) {
  const page = useAsked('part.read', { partId })
  if (page === null) return null
  return (
    <>
      <ExplainedText />
      <MarginTitle>{reachWords(page.use)}</MarginTitle>
      <MarginText>{page.does}</MarginText>
      {page.use.typicals.map((typical) => (
        <MarginText key={typical.id}>
          <a href={hrefOf({ sheet: 'typical', typicalId: typical.id })}>{typical.name}</a> has it as{' '}
          {typical.tags.join(' and ')}.
        </MarginText>
      ))}
      <Citation>The maker’s own instructions and listing decide; what stands here was typed in.</Citation>
    </>
  )
}
