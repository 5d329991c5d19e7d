// Words of callers: common practice, no source.
import { expect, test } from 'vitest'
import { symptomIn, type Symptom } from '../../../core/service/index.ts'

test.each<[string, Symptom | null]>([
  ['the store room door on three will not lock again', 'will not lock'],
  ['Leaf does not latch.', 'will not lock'],
  ["the pharmacy won't hold", 'will not lock'],
  ['118 has been unlocked all night', 'will not lock'],
  ["we can't get out of the ward", 'will not release'],
  ['the lobby will not open for my card', 'will not release'],
  ['somebody is stuck in the lab', 'will not release'],
  ['stays locked on fire alarm', 'will not release'],
  ['The store stays unlocked too long after somebody leaves.', 'relocks late'],
  ['it locks late', 'relocks late'],
  ['alarm goes off whenever we open the back door', 'alarm when opened'],
  ['the alarm sounds when we leave', 'alarm when opened'],
  ['alarm at night with nobody there', 'forced alarm'],
  ['the reader is dead', 'dead'],
  ['anyone can push it open', 'weak hold'],
  ['store room three', null],
])('“%s” is %s', (words, symptom) => {
  expect(symptomIn(words)).toBe(symptom)
})
