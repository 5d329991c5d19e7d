import { all, no, unknown, within, yes, type Check } from '../checks.ts'
import { allVerdicts, listingDocuments, readBut, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'
import { anyHold, latchedIn, notWorkedOut, type OpeningView } from '../view.ts'

export const holdOpenRelease: Rule = {
  key: 'hold-open-release',
  sentence: 'A fire door that is held open shuts and latches when the alarm goes off.',
  severity: 'breaks a rule',
  citations: [standardSections.holdOpen],
  content: readBut('The section number is from memory.', 'S28', 'S53'),
  leftToReader: ['Smoke doors without a label, and which detectors must let the door go.', listingDocuments],
  gives: allVerdicts,
  applies: (view) =>
    all(
      within(view.facts, 'fire-label-minutes', { above: 0 }, () => 'It bears no fire label.'),
      anyHold(view, ({ grip }) => grip === 'holds the leaf open', 'Nothing holds it open.'),
    ),
  asks: (view) => [
    shuts(view),
    latchedIn(view, 'fire alarm', (leaf) => `On fire alarm ${leaf} does not latch.`),
  ],
}

function shuts({ conditions }: OpeningView): Check {
  const results = conditions.get('fire alarm')
  if (results === undefined) return notWorkedOut('fire alarm')
  const checks = results.flatMap(({ leaves }) =>
    leaves.map(({ leaf, standing, latched }) => {
      if (standing === 'shut') return yes
      if (standing !== 'not known') return no(`On fire alarm ${leaf.name} stays open.`)
      const questions = latched.form === 'not known' ? latched.missing : []
      return unknown(...questions.map((question) => ({ about: 'behaviour' as const, question })))
    }),
  )
  return all(...checks)
}
