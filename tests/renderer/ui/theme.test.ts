import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { describe, expect, it } from 'vitest'

const css = readFileSync(resolve(import.meta.dirname, '../../../renderer/ui/theme.css'), 'utf8')

const variables = (selector: string): Record<string, string> => {
  const start = css.indexOf(`${selector} {`)
  if (start < 0) throw new Error(`theme.css has no ${selector}`)
  const body = css.slice(start, css.indexOf('}', start))
  return Object.fromEntries(
    [...body.matchAll(/--([\w-]+):\s*([^;]+);/g)].map(([, name, value]) => [name, value]),
  )
}

const light = variables(':root')
const darkBySystem = variables(":root:not([data-scheme='light'])")
const darkByChoice = variables(":root[data-scheme='dark']")

// Relative luminance and contrast ratio: WCAG 2.2, definitions (w3.org/TR/WCAG22/#dfn-relative-luminance).
const luminance = (hex: string): number => {
  const channel = (at: number): number => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4
  }
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}
const contrast = (one: string, other: string): number => {
  const [dark = 0, bright = 0] = [luminance(one), luminance(other)].toSorted((a, b) => a - b)
  return (bright + 0.05) / (dark + 0.05)
}

// Text: success criterion 1.4.3, 4.5 to 1. Edges, rings and drawn marks: 1.4.11, 3 to 1.
const TEXT = 4.5
const DRAWN = 3
const grounds = ['paper', 'sheet', 'wash', 'here', 'chosen']
const pairs: readonly [front: string, back: string, least: number][] = [
  ...grounds.map((ground): [string, string, number] => ['ink', ground, TEXT]),
  ...['soft', 'blue', 'brass', 'red', 'waiting'].flatMap((front) =>
    ['paper', 'sheet', 'here', 'chosen'].map((ground): [string, string, number] => [front, ground, TEXT]),
  ),
  ['soft', 'wash', TEXT],
  ['on-ink', 'ink', TEXT],
  ['on-ink-soft', 'ink', TEXT],
  ['on-red', 'red', TEXT],
  ['on-ink', 'blue', TEXT],
  ...['edge', 'ring'].flatMap((front) =>
    ['paper', 'sheet', 'here'].map((ground): [string, string, number] => [front, ground, DRAWN]),
  ),
]

describe.each([
  ['light', light],
  ['dark', darkByChoice],
])('contrast, %s', (_scheme, colours) => {
  it.each(pairs)('%s on %s is at least %d', (front, back, least) => {
    expect(contrast(colours[front] ?? '', colours[back] ?? '')).toBeGreaterThanOrEqual(least)
  })
})

describe('schemes', () => {
  it('knows black on white', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5)
  })
  it('is the same dark by the system and by choice', () => {
    expect(darkByChoice).toEqual(darkBySystem)
  })
  it('gives every colour of the light scheme in the dark one', () => {
    const colours = Object.keys(light).filter((name) => !['interface', 'narrow', 'serif'].includes(name))
    expect(Object.keys(darkByChoice)).toEqual(colours)
  })
})
