// Questions that are only worth asking once another is answered: how large the equipment is, once there is any.
import { missingKey, type Missing } from './checks.ts'
import type { FactKey } from './facts.ts'

const askedAfter: { readonly [K in FactKey]?: FactKey } = {
  'equipment-amps': 'electrical-room',
  'equipment-over-600-volts': 'electrical-room',
  'equipment-over-6-feet': 'electrical-room',
  'working-space-distance': 'electrical-room',
  'series-clear-space': 'doors-in-series',
  'series-swing': 'doors-in-series',
  'stair-stories': 'stair-door',
  'stair-discharge': 'stair-door',
  'stair-remote-unlock': 'stair-door',
  'stair-selected-re-entry': 'stair-door',
  'stair-telephones': 'stair-door',
  'largest-field-hole': 'field-holes',
  'field-change-approved': 'field-holes',
  'raceway-permitted': 'field-raceway',
  'delay-sign-distance': 'delay-sign',
  'delay-sign-letters': 'delay-sign',
  'delay-seconds-in-path': 'delayed-doors-in-path',
}

/** The key of the question that comes first, or null. Conditions are worked out once the fittings are known. */
export function priorOf(missing: Missing): string | null {
  switch (missing.about) {
    case 'fact':
      return askedAfter[missing.fact] ?? null
    case 'condition':
      return missingKey({ about: 'fittings' })
    case 'behaviour':
    case 'fittings':
    case 'trait':
    case 'local':
      return null
  }
}

/** What is missing of these that can be asked now: follow-ups of what is missing too wait for it. */
export function askableNow(missing: Iterable<Missing>): ReadonlyMap<string, Missing> {
  const all = new Map<string, Missing>()
  for (const each of missing) all.set(missingKey(each), each)
  return new Map([...all].filter(([, each]) => !all.has(priorOf(each) ?? '')))
}
