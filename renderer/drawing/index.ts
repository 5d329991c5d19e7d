export * from './shapes.ts'
export * from './cell-mark.ts'
export { gateHalf, gateMark, gateMarkName, type GateSize } from './gate-mark.ts'
export { elevation, elevationToScale, type ElevationBox, type ScaledElevation } from './elevation.ts'
export { boxOf, overlap, textRoom } from './text-room.ts'
export {
  preparationDrawing,
  preparationFigure,
  type PreparationBox,
  type ScaledPreparation,
} from './preparation.ts'
export {
  templateDrawing,
  templateFigure,
  type Template,
  type TemplatePage,
  type TemplateSheet,
} from './preparation-template.ts'
export { voltsAlongRun, voltsFigureDrawings, type VoltsBox } from './volts-along-run.ts'
export { riserDrawings, type RiserRoom } from './riser.ts'
