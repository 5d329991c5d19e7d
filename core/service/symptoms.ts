// What callers complain of, and how it is told from their own words.

export const symptoms = [
  'will not lock',
  'will not release',
  'relocks late',
  'alarm when opened',
  'dead',
  'weak hold',
  'forced alarm',
] as const
export type Symptom = (typeof symptoms)[number]

/** What a symptom is, as the page names it. */
export const symptomWords: Readonly<Record<Symptom, string>> = {
  'will not lock': 'Will not lock',
  'will not release': 'Will not release',
  'relocks late': 'Relocks late',
  'alarm when opened': 'Alarm when opened',
  dead: 'Nothing works',
  'weak hold': 'Holds weakly',
  'forced alarm': 'Alarm with nobody there',
}

/** Said before anything is touched; null where nothing of the symptom itself can hurt. */
export const symptomCautions: Readonly<Record<Symptom, string | null>> = {
  'will not lock':
    'Until it locks, tell whoever answers for what is behind it. Do not wedge or chain a way out to keep it shut.',
  'will not release':
    'Somebody may not be able to get out. Post a person at the door or hold it open, and do not leave it in use until it lets out.',
  'relocks late': null,
  'alarm when opened': 'Tell whoever watches the alarms before the door is tried.',
  dead: 'With no power some locks hold and others let go. See first that people can still get out.',
  'weak hold': null,
  'forced alarm': 'Tell whoever watches the alarms before the door is tried.',
}

/** The first that fits counts. Common practice, no source: words that callers use. */
const sayings: readonly (readonly [Symptom, RegExp])[] = [
  ['will not release', /stays? (held|locked)/],
  [
    'alarm when opened',
    /alarm.*\b(open|opened|opens|go(es)? out|leave|leaves|exit)|(open|opened|opens|leave|leaves).*\balarm/,
  ],
  ['forced alarm', /\balarms?\b|\bbeep|\bsiren|\bsounder\b/],
  ['relocks late', /\b(too long|late|slow|slowly|ages|delay)\b|stays? (open|unlocked|released)/],
  ['weak hold', /\b(weak|pull(s|ed)? (it )?open|push(es|ed)? (it )?open|forced? open|loose|rattle)/],
  [
    'will not lock',
    /(not|n't|nt|never|won.?t|cannot|refuses?|stopped|fails?)\b.*\b(lock|locking|latch|latching|hold|holding|secure|shut|close)|\bunlocked\b/,
  ],
  [
    'will not release',
    /(not|n't|nt|never|won.?t|cannot|can.?t|refuses?|fails?)\b.*\b(open|unlock|release|let|get|exit|out|in)\b|\b(stuck|trapped|jammed|locked (in|out))\b/,
  ],
  ['dead', /\b(dead|no power|nothing works|no lights?|dark|off)\b/],
]

/** The symptom in a caller's words; null where they do not say. */
export function symptomIn(words: string): Symptom | null {
  const plain = words.toLowerCase().replaceAll('’', "'")
  return sayings.find(([, saying]) => saying.test(plain))?.[0] ?? null
}
