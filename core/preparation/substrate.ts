// What a leaf or a frame is made of, from what schedules write. Common practice, no source; standards.md 11 for HM and WD.
import type { Substrate } from './model.ts'

export interface ReadSubstrate {
  readonly substrate: Substrate
  /** A doubt that a person should settle: "WD" does not say whether a door is solid. */
  readonly doubt: string | null
}

const words: readonly (readonly [RegExp, Substrate])[] = [
  [/^(hmi?|hollow metal.*|steel|stl?|galv(anised|anized)?( steel)?|(stainless steel|ss))$/, 'hollow metal'],
  [/^(wd|wood|scwd?|sc wd|solid (core )?(wood|timber)|solid core|timber)$/, 'solid wood'],
  [/^(al|alum|aluminium|aluminum)$/, 'aluminium'],
  [/^(gl|glass|all[- ]glass)$/, 'glass'],
]

/** Null where the text names no substrate that patterns are kept for. */
export function readSubstrate(text: string | null, of: 'frame' | 'leaf'): ReadSubstrate | null {
  const plain = (text ?? '').trim().toLowerCase().replace(/\s+/g, ' ')
  const substrate = words.find(([pattern]) => pattern.test(plain))?.[1]
  if (substrate === undefined) return null
  const saysOnlyWood = of === 'leaf' && /^(wd|wood|timber)$/.test(plain)
  return {
    substrate,
    doubt: saysOnlyWood ? `Is the wood leaf solid? "${text?.trim() ?? ''}" does not say.` : null,
  }
}
