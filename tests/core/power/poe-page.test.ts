// Switches of a job: ports, what they feed, and budgets. Class 3 sets 15.4 W aside (IEEE 802.3, standards.md 7, S111).
import { expect, test } from 'vitest'
import { asId, type JobData } from '../../../core/job/index.ts'
import { addSwitch, keptPower, networkFeeds } from '../../../core/power/index.ts'
import { plan } from '../../../core/schedule/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'

let made = 0
function withSwitch(budgetWatts: number | null): JobData {
  const data = jobDataOf(demoRecords())
  const planned = plan(
    addSwitch([], { ports: 4, feedType: 1, budgetWatts }),
    data,
    () => `made-${(made += 1)}`,
    null,
  )
  if (!planned.ok) throw new Error('expected a plan')
  data.apply(planned.change.edits)
  return data
}

/** The reader of 101 on the first port, 50 m away over 23 AWG solid. */
function feed(data: JobData, feedClass: number | null): void {
  const [port] = [...data.all('networkPort')]
  const [controller] = [...data.all('controller')]
  data.put('networkPort', {
    ...port!,
    controllerId: controller!.id,
    cableSize: '23 AWG',
    stranded: false,
    lengthMetres: 50,
  })
  data.put('partNetworkFeed', {
    id: asId<'partNetworkFeed'>('feed'),
    partId: controller!.partId!,
    feedClass,
    watts: feedClass === null ? null : 12,
  })
}

const read = (data: JobData) => networkFeeds(data, keptPower(data).read())

test('a new switch has its ports, and nothing is judged before anything is fed', () => {
  const [page] = read(withSwitch(60)).switches
  expect(page?.ports).toHaveLength(4)
  expect(page?.verdict).toBe('does not apply')
})

test.each([
  [60, 3, 'met', 15.4],
  [15, 3, 'not met', 15.4],
  [null, 3, 'not known', 15.4],
  [60, null, 'not known', null],
] as const)('budget %s W, class %s: %s', (budget, feedClass, verdict, byClass) => {
  const data = withSwitch(budget)
  feed(data, feedClass)
  const { switches, targets } = read(data)
  expect(switches[0]).toMatchObject({ verdict, byClassWatts: byClass })
  expect(targets.length).toBeGreaterThan(0)
  if (verdict === 'not known') expect(switches[0]?.questions.length).toBeGreaterThan(0)
})
