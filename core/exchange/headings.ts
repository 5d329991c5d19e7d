// Which field a column heading names. Words of the trade and their short forms: common practice, no source.

export const targetFields = [
  'mark',
  'where',
  'toRoom',
  'fromRoom',
  'building',
  'level',
  'size',
  'width',
  'height',
  'thickness',
  'leaves',
  'hand',
  'doorMaterial',
  'frameMaterial',
  'fireLabel',
  'doorType',
  'hardwareSet',
  'typical',
  'furnishedBy',
  'fittedBy',
  'wiredBy',
  'terminatedBy',
  'serial',
  'assetTag',
  'installedOn',
  'notes',
  'sourceId',
] as const
export type TargetField = (typeof targetFields)[number]

/** What people call each field, for choices and messages. */
export const targetNames: Readonly<Record<TargetField, string>> = {
  mark: 'Mark',
  where: 'Where',
  toRoom: 'To room',
  fromRoom: 'From room',
  building: 'Building',
  level: 'Level',
  size: 'Size',
  width: 'Width',
  height: 'Height',
  thickness: 'Thickness',
  leaves: 'Leaves',
  hand: 'Hand',
  doorMaterial: 'Door material',
  frameMaterial: 'Frame material',
  fireLabel: 'Fire label',
  doorType: 'Door type',
  hardwareSet: 'Hardware set',
  typical: 'Typical',
  furnishedBy: 'Furnished by',
  fittedBy: 'Fitted by',
  wiredBy: 'Wired by',
  terminatedBy: 'Terminated by',
  serial: 'Serial',
  assetTag: 'Asset tag',
  installedOn: 'Installed on',
  notes: 'Notes',
  sourceId: 'Source id',
}

/** A unit that a heading gives to all bare numbers under it. */
export type HeadingUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft'

export interface HeadingMeaning {
  readonly field: TargetField | null
  /** 3 names the field outright, 2 commonly means it, 1 may mean it. */
  readonly strength: 0 | 1 | 2 | 3
  readonly unit: HeadingUnit | null
  /** The width of one leaf, as the heading says. */
  readonly ofLeaf: boolean
}

type Rule = readonly [field: TargetField, strength: 1 | 2 | 3, pattern: RegExp]

const no = '(?:no|nr|num|number|id|mark|tag)'
const door = '(?:door|dr|opening|opng|opg)'
const rules: readonly Rule[] = [
  ['sourceId', 3, /^(?:ifc )?(?:global ?id|guid|source ?id|ext(?:ernal)? ?identifier|unique ?id)$/],
  ['assetTag', 3, /^asset(?: (?:tag|id|no|number|identifier))?$|^bar ?code$/],
  ['serial', 3, /^(?:serial|sn|s n)(?: ?(?:no|number|nr))?$/],
  [
    'installedOn',
    3,
    /^(?:date )?install(?:ed|ation)?(?: on| date)$|^date (?:of )?install(?:ed|ation)$|^installed$/,
  ],
  ['furnishedBy', 3, /^(?:furn(?:ished|ish)?|supplied|provided|supply) by$/],
  ['fittedBy', 3, /^(?:fitted|inst(?:alled|all)?|hung|fit) by$/],
  ['wiredBy', 3, /^(?:wired|cabled|wiring|cable) by$/],
  ['terminatedBy', 3, /^(?:term(?:inated|ination)?|connected) by$/],
  ['mark', 3, new RegExp(`^${door} ?${no}s?$|^mark$|^${door} ${door} ${no}$`)],
  ['mark', 2, new RegExp(`^${door}s?$`)],
  ['mark', 1, /^(?:no|nr|number|id|tag|item|ref|reference)$/],
  ['toRoom', 3, /^(?:to|into|to room|room to|to space|space to|leads to|to room (?:no|number|name))$/],
  ['fromRoom', 3, /^(?:from|from room|room from|from space|space from|from room (?:no|number|name))$/],
  ['toRoom', 2, /^(?:room|rm|space) ?(?:no|nr|number)$/],
  ['where', 3, /^(?:where|location|door location|opening location|room ?name|space name|rm name)$/],
  ['where', 2, /^(?:room|rm|space|area|place|room description)$/],
  ['building', 3, /^(?:building|bldg|block)(?: ?(?:no|name|number|code))?$/],
  ['level', 3, /^(?:level|floor|storey|story|lvl|flr)(?: ?(?:no|name|number))?$/],
  [
    'size',
    3,
    new RegExp(`^(?:${door} |nominal |leaf |nom )?(?:size|dimensions|dims)(?: w ?x ?h)?(?: x t)?$`),
  ],
  ['size', 2, /^w(?:idth)? ?x ?h(?:eight|gt|t)?(?: ?x ?t(?:hk|hickness)?)?$|^nominal$/],
  ['width', 3, new RegExp(`^(?:${door} |nominal |leaf |nom |clear |size |dimensions )*(?:width|wdth)$`)],
  ['width', 2, new RegExp(`^(?:${door} |size |nominal |${door} size |nominal size )?w$`)],
  [
    'height',
    3,
    new RegExp(`^(?:${door} |nominal |leaf |nom |clear |size |dimensions )*(?:height|hgt|hght)$`),
  ],
  ['height', 2, new RegExp(`^(?:${door} |size |nominal |${door} size |nominal size )?(?:h|ht)$`)],
  ['thickness', 3, new RegExp(`^(?:${door} |leaf |size |dimensions )*(?:thickness|thk|thick|thkns)$`)],
  ['thickness', 2, new RegExp(`^(?:${door} |size |${door} size )?t$`)],
  [
    'leaves',
    3,
    /^(?:no (?:of )?)?(?:door )?(?:leaves|leafs|panels)$|^(?:single|sgl) (?:or )?(?:pair|double|pr)$|^(?:pair|pr)$|^leaf count$/,
  ],
  ['hand', 3, new RegExp(`^(?:${door} )?(?:hand|handing|hnd|hdg|swing)$|^hand of door$`)],
  ['frameMaterial', 3, /^(?:frame|fr|frm)s? (?:material|matl|mat|mtl|mat l|construction)$|^frame$/],
  [
    'doorMaterial',
    3,
    new RegExp(`^(?:${door}|leaf|panel)s? (?:panel |leaf )?(?:material|matl|mat|mtl|mat l|construction)$`),
  ],
  ['doorMaterial', 2, /^(?:material|matl|mat|mtl|mat l)$/],
  [
    'fireLabel',
    3,
    /^(?:door )?(?:fire(?: (?:label|rating|rated|rate|resistance(?: rating)?|class))?|f r|label|lbl|ul label|ul|frl)(?: (?:min|minutes|mins|hr|hrs))?$|^rating$|^fire rating label$/,
  ],
  ['fireLabel', 2, /^(?:rated|hourly rating|hour rating|rate)$/],
  ['doorType', 3, new RegExp(`^(?:${door}|leaf|panel) (?:type|elevation|elev|style)$`)],
  ['doorType', 2, /^(?:type|elevation|elev)$/],
  [
    'hardwareSet',
    3,
    /^(?:hardware|hdw|hdwr|hdwe|hw|hwd|ironmongery)(?: ?(?:set|group|grp|gp|no|number|heading|schedule))?(?: ?(?:no|number))?$/,
  ],
  ['hardwareSet', 1, /^(?:set|group|heading)$/],
  ['typical', 3, /^typical(?: (?:name|no))?$/],
  ['typical', 2, /^(?:arrangement|access control(?: type)?|access type|security type)$/],
  ['notes', 3, /^(?:notes?|remarks?|comments?|rmks?|special notes|additional notes)$/],
]

const unitWords: readonly (readonly [RegExp, HeadingUnit | null])[] = [
  [/ (?:mm|millimet(?:er|re)s?)$/, 'mm'],
  [/ (?:cm|centimet(?:er|re)s?)$/, 'cm'],
  [/ (?:ft(?: in)?|feet(?: inches)?|feet and inches)$/, null],
  [/ (?:in|ins|inch|inches)$/, 'in'],
  [/ (?:m|met(?:er|re)s)$/, 'm'],
]

/** A heading's words, without case and punctuation: "DOOR #" becomes "door no". */
export const plainHeading = (heading: string): string =>
  heading
    .normalize('NFKC')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/#/g, ' no ')
    .replace(/mat['’]l/g, 'matl')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()

/** The field a heading names, with how surely and in which unit. */
export function meaningOf(heading: string): HeadingMeaning {
  const whole = plainHeading(heading)
  const tried: { text: string; unit: HeadingUnit | null }[] = [{ text: whole, unit: null }]
  for (const [pattern, unit] of unitWords)
    if (pattern.test(whole)) tried.push({ text: whole.replace(pattern, ''), unit })
  let best: HeadingMeaning = { field: null, strength: 0, unit: null, ofLeaf: false }
  for (const { text, unit } of tried)
    for (const [field, strength, pattern] of rules)
      if (strength > best.strength && pattern.test(text))
        best = { field, strength, unit, ofLeaf: field === 'width' && /\bleaf\b/.test(text) }
  return best
}
