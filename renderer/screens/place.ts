// Which sheet is in view, kept in the address so that back and forward work as in any window.
import { useSyncExternalStore } from 'react'

export type Place =
  | { readonly sheet: 'schedule' }
  | { readonly sheet: 'opening'; readonly openingId: string }
  | { readonly sheet: 'typical'; readonly typicalId: string }
  | { readonly sheet: 'job' }
  | { readonly sheet: 'history' }
  | { readonly sheet: 'intake' }

function readPlace(hash: string): Place {
  const [sheet, id] = hash.replace(/^#\/?/, '').split('/')
  switch (sheet) {
    case 'opening':
      return id === undefined ? { sheet: 'schedule' } : { sheet, openingId: decodeURIComponent(id) }
    case 'typical':
      return id === undefined ? { sheet: 'schedule' } : { sheet, typicalId: decodeURIComponent(id) }
    case 'job':
    case 'history':
    case 'intake':
      return { sheet }
    default:
      return { sheet: 'schedule' }
  }
}

function writePlace(place: Place): string {
  switch (place.sheet) {
    case 'opening':
      return `#/opening/${encodeURIComponent(place.openingId)}`
    case 'typical':
      return `#/typical/${encodeURIComponent(place.typicalId)}`
    case 'schedule':
    case 'job':
    case 'history':
    case 'intake':
      return `#/${place.sheet}`
  }
}

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
