// Reads a written file back with qpdf, which shares no code with what wrote it.
import { run } from './printed.ts'

export type Value = string | number | boolean | null | readonly Value[] | { readonly [key: string]: Value }
type Dictionary = { readonly [key: string]: Value }

export interface Outline {
  readonly title: string
  readonly open: boolean
  readonly destpageposfrom1: number | null
  readonly kids: readonly Outline[]
}

export interface FileReadBack {
  readonly pages: readonly Dictionary[]
  readonly catalog: Dictionary
  readonly outlines: readonly Outline[]
  readonly labels: readonly { readonly index: number; readonly label: Dictionary }[]
  /** Every object, streams as their dictionaries. */
  readonly objects: readonly Dictionary[]
  /** What a reference stands for. */
  readonly at: (value: Value | undefined) => Value
  /** The page a destination leads to, from 1. */
  readonly pageOf: (destination: Value | undefined) => number
}

interface Json {
  readonly pages: readonly { readonly object: string }[]
  readonly outlines: readonly Outline[]
  readonly pagelabels: readonly { readonly index: number; readonly label: Dictionary }[]
  readonly qpdf: readonly [
    unknown,
    Readonly<Record<string, { value?: Value; stream?: { dict: Dictionary } }>>,
  ]
}

export const isDictionary = (value: Value | undefined): value is Dictionary =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

export const dictionary = (value: Value | undefined): Dictionary => {
  if (!isDictionary(value)) throw new Error(`not a dictionary: ${JSON.stringify(value)}`)
  return value
}

export const list = (value: Value | undefined): readonly Value[] => {
  if (!Array.isArray(value)) throw new Error(`not a list: ${JSON.stringify(value)}`)
  return value as readonly Value[]
}

export function readBack(file: string): FileReadBack {
  const json = JSON.parse(run('qpdf', '--json=2', '--json-stream-data=none', file)) as Json
  const [, table] = json.qpdf
  const at = (value: Value | undefined): Value => {
    if (typeof value !== 'string' || !/^\d+ \d+ R$/.test(value)) return value ?? null
    const found = table[`obj:${value}`]
    return at(found?.value ?? found?.stream?.dict ?? null)
  }
  const catalog = dictionary(at(dictionary(table['trailer']?.value)['/Root']))
  const places = new Map(json.pages.map(({ object }, index) => [object, index + 1]))
  const names = new Map<string, Value>()
  const gather = (tree: Dictionary): void => {
    for (const kid of list(at(tree['/Kids'] ?? []))) gather(dictionary(at(kid)))
    const pairs = list(at(tree['/Names'] ?? []))
    for (let index = 0; index < pairs.length; index += 2) {
      const name = pairs[index]
      if (typeof name === 'string') names.set(name, at(pairs[index + 1]))
    }
  }
  const dests = dictionary(at(catalog['/Names'] ?? {}))['/Dests']
  if (dests !== undefined) gather(dictionary(at(dests)))
  return {
    pages: json.pages.map(({ object }) => dictionary(at(object))),
    catalog,
    outlines: json.outlines,
    labels: json.pagelabels,
    objects: Object.values(table).flatMap(({ value, stream }) => {
      const found = stream?.dict ?? value
      return isDictionary(found) ? [found] : []
    }),
    at,
    pageOf(destination) {
      const found = typeof destination === 'string' ? names.get(destination) : at(destination)
      const [page] = list(found ?? null)
      return typeof page === 'string' ? (places.get(page) ?? 0) : 0
    },
  }
}

/** The links of a page: where each stands from the left and from the foot, and where it leads. */
export function linksOf(
  file: FileReadBack,
  page: number,
): readonly { readonly page: number; readonly top: number; readonly left: number }[] {
  return list(file.at(file.pages[page - 1]?.['/Annots'] ?? [])).flatMap((each) => {
    const annotation = dictionary(file.at(each))
    if (annotation['/Subtype'] !== '/Link' || annotation['/Dest'] === undefined) return []
    const [left, , , top] = list(file.at(annotation['/Rect'])).map(Number)
    return [{ page: file.pageOf(annotation['/Dest']), left: left ?? 0, top: top ?? 0 }]
  })
}
