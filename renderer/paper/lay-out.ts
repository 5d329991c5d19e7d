// From blocks to pieces.
import type { Block } from '../../core/documents/index.ts'
import { behaviourPieces, elevationPieces } from './drawing-pieces.ts'
import { figurePieces } from './figure-pieces.ts'
import { photographPieces } from './photograph-pieces.ts'
import { openPicture, type Picture } from './pictures.ts'
import type { Layout, Piece } from './pieces.ts'
import { signaturePieces } from './signature-pieces.ts'
import { tablePieces } from './table-pieces.ts'
import { countsPieces, titlePieces } from './title-pieces.ts'
import { legendPieces, notesPieces, wordsPieces } from './words-pieces.ts'

/** Gives the bytes behind a key; null when there are none. */
export type ReadFile = (key: string) => Promise<Uint8Array | null>

/** The pictures of these blocks, read and looked at. */
export async function picturesOf(
  blocks: readonly Block[],
  read: ReadFile | undefined,
): Promise<Layout['pictures']> {
  const pictures = new Map<string, Picture | { readonly problem: string }>()
  for (const block of blocks)
    if (block.form === 'photographs')
      for (const { key } of block.photographs)
        if (!pictures.has(key)) pictures.set(key, openPicture(key, (await read?.(key)) ?? null))
  return pictures
}

export interface LaidOut {
  readonly pieces: readonly Piece[]
  /** Headings of the columns that did not fit. */
  readonly leftOut: readonly string[]
}

/** Sets the text of all blocks. Notes and problems are left in the layout. */
export function layOut(blocks: readonly Block[], layout: Layout): LaidOut {
  const pieces: Piece[] = []
  const leftOut: string[] = []
  let printed = layout.notes.length
  const notesSoFar = (): void => {
    pieces.push(...notesPieces(layout.notes.slice(printed), layout))
    printed = layout.notes.length
  }
  for (const block of blocks) {
    switch (block.form) {
      case 'title':
        pieces.push(...titlePieces(block, layout))
        break
      case 'counts':
        pieces.push(...countsPieces(block, layout))
        break
      case 'table': {
        const table = tablePieces(block, layout)
        pieces.push(...table.pieces)
        leftOut.push(...table.leftOut.map((column) => column.heading))
        notesSoFar()
        break
      }
      case 'legend':
        pieces.push(...legendPieces(block, layout))
        break
      case 'words':
        pieces.push(...wordsPieces(block, layout))
        break
      case 'elevation':
        pieces.push(...elevationPieces(block, layout))
        break
      case 'behaviour':
        pieces.push(...behaviourPieces(block, layout))
        notesSoFar()
        break
      case 'figure':
        pieces.push(...figurePieces(block, layout))
        break
      case 'photographs':
        pieces.push(...photographPieces(block, layout))
        break
      case 'signatures':
        pieces.push(...signaturePieces(block, layout))
        break
    }
  }
  notesSoFar()
  return { pieces, leftOut }
}
