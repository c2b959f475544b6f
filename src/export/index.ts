/** What leaves as a file for the workshop. */
export { cautions } from './cautions.ts'
export type { Template } from './drawing.ts'
export { OffsetError } from './offset.ts'
export { type GroupId, groupIds, type Pen, pens, svg } from './svg.ts'
export { standingOn, type TemplateOptions, template } from './template.ts'
