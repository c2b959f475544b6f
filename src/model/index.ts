/** The model's public door: files to documents, documents to problems, results to layout files. */
export { type FileProblem, formatProblem, type Read } from '../../footprints/problems.ts'
export {
  type Added,
  addsFewest,
  built,
  type Edited,
  type EditProblem,
  moveHole,
  type NewHoles,
  newHoles,
} from './built.ts'
export { type Changed, changeProject, type PatchOp, shapeToFile } from './change.ts'
export type { LaidLead } from './laid-lead.ts'
export {
  boundInFile,
  figuresInFile,
  type Laid,
  layoutOf,
  leftOut,
  placementsOf,
  placementsToFile,
  valueInFile,
} from './layout.ts'
export { type LayoutFile, layoutVariant, readLayout, writeLayout } from './layout-file.ts'
export { DEFAULTS, toProblem } from './problem.ts'
export { readProject, writeProject } from './project.ts'
export type {
  Project,
  ProjectDeck,
  ProjectExit,
  ProjectItem,
  ProjectNet,
  ProjectPass,
  ProjectPlace,
  ProjectSettings,
  ProjectVariant,
  ProjectWire,
  ProjectWireEnd,
  ProjectZone,
} from './schema.ts'
export { applyVariant, variantsOf } from './variants.ts'
export { type Stroke, strokesOf, type WireRoute, wireRoutes } from './wire-route.ts'
