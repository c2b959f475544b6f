/** How each kind of part looks, in the file and in the 3D picture. */
import type { Role } from './gltf-parts.ts'
import type { SolidColours } from './picture-colours.ts'

/** Colour role and opacity. */
export const materialOf: Readonly<Record<Role, { readonly colour: keyof SolidColours; readonly opacity: number }>> = {
  deck: { colour: 'deck', opacity: 1 },
  body: { colour: 'body', opacity: 1 },
  board: { colour: 'board', opacity: 1 },
  later: { colour: 'body', opacity: 0.35 },
  contacts: { colour: 'free', opacity: 1 },
  stack: { colour: 'body', opacity: 0.2 },
  sweep: { colour: 'sweep', opacity: 0.25 },
  corridor: { colour: 'corridor', opacity: 0.25 },
  wire: { colour: 'wire', opacity: 1 },
}
