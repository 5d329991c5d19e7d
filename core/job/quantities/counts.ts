/** "1 opening", "3 openings"; `nouns` where the plural is not the noun with an s. */
export const counted = (count: number, noun: string, nouns = `${noun}s`): string =>
  `${count} ${count === 1 ? noun : nouns}`
