// fontkit ships no types; only what is used here.
declare module 'fontkit' {
  export interface Glyph {
    readonly id: number
    readonly codePoints: readonly number[]
    readonly advanceWidth: number
  }
  export interface GlyphPosition {
    xAdvance: number
    yAdvance: number
    xOffset: number
    yOffset: number
  }
  export interface GlyphRun {
    readonly glyphs: readonly Glyph[]
    readonly positions: readonly GlyphPosition[]
    readonly advanceWidth: number
  }
  export interface Font {
    readonly unitsPerEm: number
    readonly availableFeatures: readonly string[]
    hasGlyphForCodePoint(codePoint: number): boolean
    layout(text: string, features?: readonly string[]): GlyphRun
  }
  export function create(bytes: Uint8Array): Font
}
