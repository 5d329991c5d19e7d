import { useState } from 'react'
import { findPlaces, samePlaces, type Places } from './places.ts'
import type { TableColumn, TableItem } from './types.ts'

interface Held<Row> {
  readonly items: readonly TableItem<Row>[]
  readonly columns: readonly TableColumn<Row>[]
  readonly places: Places
}

/** Where everything stands; the same object while only the content of rows changed, as after most edits. */
export const usePlaces = <Row>(
  items: readonly TableItem<Row>[],
  columns: readonly TableColumn<Row>[],
): Places => {
  const [held, setHeld] = useState<Held<Row>>(() => ({ items, columns, places: findPlaces(items, columns) }))
  if (held.items === items && held.columns === columns) return held.places
  const kept = held.columns === columns && samePlaces(held.items, items)
  const next = { items, columns, places: kept ? held.places : findPlaces(items, columns) }
  // Set while drawing: React draws again at once, before anything below is drawn with the old places.
  setHeld(next)
  return next.places
}
