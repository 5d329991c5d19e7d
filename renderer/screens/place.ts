// Which sheet is in view, kept in the address so that back and forward work as in any window.
import { useSyncExternalStore } from 'react'

/** Sheets of the whole job. */
const plainSheets = [
  'schedule',
  'cautions',
  'parts',
  'settings',
  'power',
  'runs',
  'proving',
  'handover',
  'service',
  'job',
  'history',
  'intake',
] as const
type PlainSheet = (typeof plainSheets)[number]

export type Place =
  | { readonly sheet: PlainSheet }
  | { readonly sheet: 'opening'; readonly openingId: string }
  | { readonly sheet: 'typical'; readonly typicalId: string }
  | { readonly sheet: 'part'; readonly partId: string }
  | { readonly sheet: 'supply'; readonly supplyId: string }
  /** Proving one opening. */
  | { readonly sheet: 'proof'; readonly openingId: string }
  /** One opening as the service desk looks at it. */
  | { readonly sheet: 'call'; readonly openingId: string }

function readPlace(hash: string): Place {
  const [sheet = '', rawId] = hash.replace(/^#\/?/, '').split('/')
  const plain = plainSheets.find((each) => each === sheet)
  if (plain !== undefined) return { sheet: plain }
  if (rawId === undefined) return { sheet: 'schedule' }
  const id = decodeURIComponent(rawId)
  switch (sheet) {
    case 'opening':
    case 'proof':
    case 'call':
      return { sheet, openingId: id }
    case 'typical':
      return { sheet, typicalId: id }
    case 'part':
      return { sheet, partId: id }
    case 'supply':
      return { sheet, supplyId: id }
    default:
      return { sheet: 'schedule' }
  }
}

function writePlace(place: Place): string {
  switch (place.sheet) {
    case 'opening':
    case 'proof':
    case 'call':
      return `#/${place.sheet}/${encodeURIComponent(place.openingId)}`
    case 'typical':
      return `#/typical/${encodeURIComponent(place.typicalId)}`
    case 'part':
      return `#/part/${encodeURIComponent(place.partId)}`
    case 'supply':
      return `#/supply/${encodeURIComponent(place.supplyId)}`
    default:
      return `#/${place.sheet}`
  }
}

/** The address of a place, for links. */
export const hrefOf = writePlace

const subscribe = (changed: () => void): (() => void) => {
  window.addEventListener('hashchange', changed)
  return () => window.removeEventListener('hashchange', changed)
}

let lastHash = ''
let lastPlace: Place = { sheet: 'schedule' }
const current = (): Place => {
  if (location.hash !== lastHash) {
    lastHash = location.hash
    lastPlace = readPlace(lastHash)
  }
  return lastPlace
}

export const usePlace = (): Place => useSyncExternalStore(subscribe, current)

export function goTo(place: Place): void {
  location.hash = writePlace(place)
}
