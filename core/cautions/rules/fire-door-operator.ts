import { all, no, within, yes, type Check } from '../checks.ts'
import { allVerdicts, listingDocuments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'
import { notWorkedOut, resultOfAlarmInOpenHours, type OpeningView } from '../view.ts'

export const fireDoorOperator: Rule = {
  key: 'fire-door-operator',
  sentence: 'A power operator on a fire door does not open it when the alarm has gone off.',
  severity: 'breaks a rule',
  citations: [standardSections.powerOperators],
  content: readIn('S53'),
  leftToReader: [listingDocuments, 'Openings that somebody asks for during the alarm are proved on site.'],
  gives: allVerdicts,
  applies: (view) =>
    all(
      within(view.facts, 'fire-label-minutes', { above: 0 }, () => 'It bears no fire label.'),
      hasOperator(view),
    ),
  asks: (view) => [restsOnAlarm(view)],
}

function hasOperator({ behaviour }: OpeningView): Check {
  const [any] = behaviour
  if (any === undefined) return notWorkedOut('secured')
  return any.operators.length > 0 ? yes : no('No power operator is fitted.')
}

/** The alarm in open hours: the operator is asked to open, and must not. */
function restsOnAlarm(view: OpeningView): Check {
  const result = resultOfAlarmInOpenHours(view)
  if (result === null) return notWorkedOut('together')
  const checks = result.operators.map(({ operator, does }) => {
    if (does === 'rests') return yes
    if (does !== 'not known') return no(`${operator.name} still opens the door on fire alarm.`)
    return notWorkedOut('together')
  })
  return all(...checks)
}
