// The lines that holes are measured from, read from a pattern's words.

export type AcrossLine =
  | 'strike frame edge'
  | 'hinge frame edge'
  | 'strike edge of leaf'
  | 'hinge edge of leaf'
  | 'centreline of leaf'
  | 'centreline of edge'
  | 'frame stop'
export type AlongLine =
  | 'frame stop'
  | 'frame head'
  | 'top edge of leaf'
  | 'bottom edge of leaf'
  | 'floor'
  | 'centreline of fitting'
  | 'lower edge of frame face'
  | 'pull face of leaf'

export interface Datum {
  readonly across: AcrossLine
  readonly along: AlongLine
}

const strike = '(?:lock|strike|latch)'
const acrossLines: readonly (readonly [RegExp, AcrossLine])[] = [
  [new RegExp(`^${strike}[- ]side frame edge$|^${strike} frame edge$|^${strike} jamb$`), 'strike frame edge'],
  [/^hinge[- ]side frame edge$|^hinge frame edge$|^hinge jamb$/, 'hinge frame edge'],
  [new RegExp(`^${strike} edge(?: of (?:the )?leaf)?$`), 'strike edge of leaf'],
  [/^hinge edge(?: of (?:the )?leaf)?$/, 'hinge edge of leaf'],
  [/^cent(?:re|er) ?line(?: of (?:the )?leaf)?$/, 'centreline of leaf'],
  [/^cent(?:re|er) ?line of (?:the )?(?:leaf )?edge$/, 'centreline of edge'],
  [/^(?:frame )?stop$/, 'frame stop'],
]
const alongLines: readonly (readonly [RegExp, AlongLine])[] = [
  [/^(?:frame )?stop$/, 'frame stop'],
  [/^(?:frame )?head$/, 'frame head'],
  [/^top edge(?: of (?:the )?leaf)?$/, 'top edge of leaf'],
  [/^bottom edge(?: of (?:the )?leaf)?$/, 'bottom edge of leaf'],
  [/^(?:finished )?floor$/, 'floor'],
  [/^cent(?:re|er) ?line(?: of (?:the )?fitting)?$/, 'centreline of fitting'],
  [/^lower edge of (?:the )?frame face$/, 'lower edge of frame face'],
  [/^pull(?: side)? face(?: of (?:the )?leaf)?$/, 'pull face of leaf'],
]

/** "Strike edge of leaf, and top edge of leaf"; null where either line is not one of those known here. */
export function readDatum(text: string): Datum | null {
  const [first, second, ...rest] = text
    .toLowerCase()
    .split(/,? and |[,;]/)
    .map((part) => part.trim().replace(/^the /, ''))
    .filter((part) => part !== '')
  if (first === undefined || second === undefined || rest.length > 0) return null
  const across = acrossLines.find(([pattern]) => pattern.test(first))?.[1]
  const along = alongLines.find(([pattern]) => pattern.test(second))?.[1]
  return across === undefined || along === undefined ? null : { across, along }
}

export type SurfaceForm = 'head' | 'head face' | 'leaf top' | 'jamb' | 'leaf face' | 'leaf edge'

const isOfLeaf = (along: AlongLine): boolean =>
  along === 'top edge of leaf' ||
  along === 'bottom edge of leaf' ||
  along === 'floor' ||
  along === 'centreline of fitting'

/** Which face two lines lie on; null where they do not meet. */
export function surfaceOf({ across, along }: Datum): SurfaceForm | null {
  switch (across) {
    case 'strike frame edge':
    case 'hinge frame edge':
      return along === 'frame stop' ? 'head' : along === 'lower edge of frame face' ? 'head face' : null
    case 'strike edge of leaf':
    case 'hinge edge of leaf':
    case 'centreline of leaf':
      return along === 'pull face of leaf' ? 'leaf top' : isOfLeaf(along) ? 'leaf face' : null
    case 'centreline of edge':
      return isOfLeaf(along) ? 'leaf edge' : null
    case 'frame stop':
      return along === 'frame head' || along === 'floor' || along === 'centreline of fitting' ? 'jamb' : null
  }
}

/** Said after "from". */
export const lineWords: Readonly<Record<AcrossLine | AlongLine, string>> = {
  'strike frame edge': 'the strike-side frame edge',
  'hinge frame edge': 'the hinge-side frame edge',
  'strike edge of leaf': 'the strike edge of the leaf',
  'hinge edge of leaf': 'the hinge edge of the leaf',
  'centreline of leaf': 'the centreline of the leaf',
  'centreline of edge': 'the centreline of the leaf’s edge',
  'frame stop': 'the frame stop',
  'frame head': 'the underside of the frame head',
  'top edge of leaf': 'the top edge of the leaf',
  'bottom edge of leaf': 'the bottom edge of the leaf',
  floor: 'the finished floor',
  'centreline of fitting': 'the centreline of the fitting',
  'lower edge of frame face': 'the lower edge of the frame’s face',
  'pull face of leaf': 'the pull face of the leaf',
}
export const meetingLine = 'the line where the leaves meet'
