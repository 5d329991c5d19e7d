export { OpeningElevation } from './opening-elevation.tsx'
export { OpeningPreparation } from './opening-preparation.tsx'
export { PointedHole } from './pointed-hole.tsx'
