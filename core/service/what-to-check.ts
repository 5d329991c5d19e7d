// What to check first: worked out from what stands between, how it is set, what it was read at, and what was found before.
import { contactDrafts, releaseDrafts } from './check-contacts.ts'
import { doorDrafts } from './check-door.ts'
import { supplyDrafts, voltDrafts } from './check-feed.ts'
import { loopDrafts } from './check-loops.ts'
import { behaviourDrafts, changeDrafts, findingDrafts, visitDrafts } from './check-past.ts'
import { settingDrafts } from './check-settings.ts'
import { inOrder, type Check } from './check.ts'
import type { Scene } from './scene.ts'
import { symptoms, type Symptom } from './symptoms.ts'

/** What to look at for a symptom, the likeliest first. A thing stands there only where the opening has it. */
export const whatToCheck = (scene: Scene, symptom: Symptom): readonly Check[] => {
  const own = [
    ...behaviourDrafts(scene, symptom),
    ...settingDrafts(scene, symptom),
    ...contactDrafts(scene, symptom),
    ...(symptom === 'will not release' ? releaseDrafts(scene) : []),
    ...voltDrafts(scene, symptom),
    ...supplyDrafts(scene, symptom),
    ...loopDrafts(scene, symptom),
    ...doorDrafts(scene, symptom),
  ]
  // A setting that merely differs, and what was found before, lead nowhere where the opening has nothing of the kind.
  if (own.every(({ usual }) => usual.points < 10)) return []
  const likely = new Set(own.flatMap(({ usual, fittingId }) => (usual.points < 50 ? [] : (fittingId ?? []))))
  return inOrder([
    ...own,
    ...findingDrafts(scene, symptom, likely),
    ...visitDrafts(scene, symptom),
    ...changeDrafts(scene),
  ])
}

/** Symptoms that this opening can have. */
export const symptomsOf = (scene: Scene): readonly Symptom[] =>
  symptoms.filter((symptom) => whatToCheck(scene, symptom).length > 0)
