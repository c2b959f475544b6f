/** What leaves as a file for the workshop. */
export { cautions } from './cautions.ts'
export type { Template, TemplateOptions } from './drawing.ts'
export { MergeError } from './merge.ts'
export { OffsetError } from './offset.ts'
export { sheet } from './sheet.ts'
export { type GroupId, groupIds, type Pen, pens, svg } from './svg.ts'
export { TAB_WIDTH } from './tabs.ts'
export { standingOn, template } from './template.ts'
