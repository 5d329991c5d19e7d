// How far two words are apart, for what was mistyped.

/** How many slips of the keys a word of this length may hold: short words are soon another word. */
const mostEdits = (length: number): number => (length < 4 ? 0 : length < 8 ? 1 : 2)

/**
 * Letters left out, put in, exchanged or swapped with their neighbour, at most `most`; `most + 1` when there are more.
 * Source: optimal string alignment, a restricted form of F. Damerau, Communications of the ACM 7 (1964) 171.
 */
export function editsBetween(one: string, other: string, most: number): number {
  if (Math.abs(one.length - other.length) > most) return most + 1
  let before: number[] = []
  let above = Array.from({ length: other.length + 1 }, (_, index) => index)
  for (let row = 1; row <= one.length; row++) {
    const here = [row]
    let least = row
    for (let column = 1; column <= other.length; column++) {
      const same = one[row - 1] === other[column - 1]
      let edits = Math.min(
        (above[column] as number) + 1,
        (here[column - 1] as number) + 1,
        (above[column - 1] as number) + (same ? 0 : 1),
      )
      if (row > 1 && column > 1 && one[row - 1] === other[column - 2] && one[row - 2] === other[column - 1])
        edits = Math.min(edits, (before[column - 2] as number) + 1)
      here.push(edits)
      least = Math.min(least, edits)
    }
    if (least > most) return most + 1
    before = above
    above = here
  }
  return Math.min(above[other.length] as number, most + 1)
}

/** Whether a word is what another was meant to be: "magent" for "magnet", "rom" for "room" though not for "rob". */
export function isNear(asked: string, word: string): boolean {
  if (asked.length === 3) return word.length === 4 && editsBetween(asked, word, 1) === 1
  const most = mostEdits(asked.length)
  return most > 0 && editsBetween(asked, word, most) <= most
}
