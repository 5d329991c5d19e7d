import type { Scenario } from '../../../core/power/index.ts'
import { scenarioWords, type AskedQuestion } from '../../../core/power/index.ts'
import { Citation, MarginText, MarginTitle } from '../../ui/index.ts'
import { useAsked } from '../use-asked.ts'
import { usePower, type PointedPower } from './power-state.ts'

/** Explains the figure under the cursor: the sum line by line, and what is missing. */
export function PowerMargin() {
  const pointed = usePower((state) => state.pointed)
  if (pointed === null) return <PowerWords />
  return <Pointed pointed={pointed} />
}

export function SupplyMargin({ supplyId }: { readonly supplyId: string }) {
  const pointed = usePower((state) => state.pointed)
  if (
    pointed === null ||
    pointed.form === 'switch' ||
    ('supplyId' in pointed && pointed.supplyId !== supplyId)
  )
    return <SupplyWords supplyId={supplyId} about="supply" />
  return <Pointed pointed={pointed} />
}

function Pointed({ pointed }: { readonly pointed: PointedPower }) {
  switch (pointed.form) {
    case 'device':
      return <DeviceWords {...pointed} />
    case 'switch':
      return <SwitchWords switchId={pointed.switchId} />
    default:
      return <SupplyWords supplyId={pointed.supplyId} about={pointed.form} />
  }
}

function PowerWords() {
  return (
    <>
      <MarginTitle>Power</MarginTitle>
      <MarginText>
        Each supply with what it holds, what it gives at its worst moment, how long its battery lasts, and the
        device that is worst off. Go over a figure to see how it came about.
      </MarginText>
      <WhoDecides />
    </>
  )
}

const WhoDecides = () => (
  <Citation>
    Local codes, listings and licensed practice decide. Copper by IEC 60028 and ASTM B258 at the cable’s
    temperature; out and return both count.
  </Citation>
)

export function Questions({ questions }: { readonly questions: readonly AskedQuestion[] }) {
  if (questions.length === 0) return null
  return (
    <>
      <MarginTitle>
        {questions.length === 1 ? 'One fact is missing' : `${questions.length} facts are missing`}
      </MarginTitle>
      {questions.slice(0, mostQuestions).map(({ sentence, who }) => (
        <MarginText key={sentence}>
          <i>{sentence}</i> Ask {who}.
        </MarginText>
      ))}
      {questions.length > mostQuestions && (
        <MarginText>And {questions.length - mostQuestions} more.</MarginText>
      )}
    </>
  )
}

const mostQuestions = 8

function SupplyWords({
  supplyId,
  about,
}: {
  readonly supplyId: string
  readonly about: 'supply' | 'battery' | 'load'
}) {
  const page = useAsked('power.supply', { supplyId })
  if (page === null) return null
  const { line, battery, loading, heat, remedies, questions } = page
  if (about === 'battery')
    return (
      <>
        <MarginTitle>{line.mark}, battery</MarginTitle>
        {battery.lines.map((each) => (
          <MarginText key={each}>{each}</MarginText>
        ))}
        {remedies
          .filter(({ sentence }) => sentence.includes('battery'))
          .map(({ sentence }) => (
            <MarginText key={sentence}>
              <strong>{sentence}</strong>
            </MarginText>
          ))}
        <Questions questions={battery.questions} />
        <Citation>
          Hours at the holding load, then the alarm; a battery is counted at the end of its life. Local codes
          decide the hours.
        </Citation>
      </>
    )
  if (about === 'load')
    return (
      <>
        <MarginTitle>{line.mark}, load</MarginTitle>
        {loading.map((each) => (
          <MarginText key={each}>{each}</MarginText>
        ))}
        {heat.length > 0 && (
          <>
            <MarginTitle>Heat</MarginTitle>
            {heat.map((each) => (
              <MarginText key={each}>{each}</MarginText>
            ))}
          </>
        )}
        <Questions questions={questions.filter(({ sentence }) => !sentence.includes('battery'))} />
        <Citation>
          The limit of{' '}
          {line.load.limitAmps === null || line.load.ratedAmps === null
            ? 'loading'
            : `${Math.round((line.load.limitAmps / line.load.ratedAmps) * 100)} %`}{' '}
          is a practice of this job, not a rule of a code.
        </Citation>
      </>
    )
  return (
    <>
      <MarginTitle>{line.mark}</MarginTitle>
      {line.troubles.length === 0 && line.verdict === 'met' && (
        <MarginText>
          Every device has its volts, the load keeps to its limits and the battery lasts.
        </MarginText>
      )}
      {line.troubles.map(({ sentence }) => (
        <MarginText key={sentence}>{sentence}</MarginText>
      ))}
      {remedies.map(({ sentence }) => (
        <MarginText key={sentence}>
          <strong>{sentence}</strong>
        </MarginText>
      ))}
      <Questions questions={questions} />
      <WhoDecides />
    </>
  )
}

function DeviceWords({
  outputId,
  load,
  name,
  scenario,
}: {
  readonly outputId: string
  readonly load: string
  readonly name: string
  readonly scenario: Scenario
}) {
  const working = useAsked('power.working', { outputId, load, scenario })
  const page = useAsked('power.output', { outputId })
  if (working === null) return null
  const own = page?.questions.filter(({ sentence }) => sentence.includes(name.split(' ')[0] ?? name)) ?? []
  return (
    <>
      <MarginTitle>{name}</MarginTitle>
      <MarginText>
        <i>{capital(scenarioWords(scenario))}.</i>
      </MarginText>
      {working.lines.length === 0 && <MarginText>There is no figure: a fact is missing.</MarginText>}
      {working.lines.map((each) => (
        <MarginText key={each}>{each}</MarginText>
      ))}
      {working.lines.length === 0 && <Questions questions={own.length > 0 ? own : (page?.questions ?? [])} />}
      <WhoDecides />
    </>
  )
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

function SwitchWords({ switchId }: { readonly switchId: string }) {
  const told = useAsked('power.read', {})
  const page = told?.network.switches.find(({ record }) => record.id === switchId)
  if (page === undefined) return <PowerWords />
  return (
    <>
      <MarginTitle>{page.record.mark}</MarginTitle>
      <MarginText>
        By class is what a switch sets aside before it knows what a device draws; a device may be refused
        although its own power would fit.
      </MarginText>
      <Questions questions={page.questions} />
      <Citation>
        Types and classes of IEEE 802.3. The cable may be 100 m long (from memory); both are the network’s to
        decide.
      </Citation>
    </>
  )
}
