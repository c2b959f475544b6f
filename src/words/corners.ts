/** Shapes edited corner by corner, in the deck workshop. */

/** Corners, and the edges that start at them, counted from 0. */
type Fault =
  | { readonly kind: 'few' }
  | { readonly kind: 'twice'; readonly corner: number }
  | { readonly kind: 'crosses'; readonly edges: readonly [number, number] }

const AS_IT_WAS = 'The shape is as it was.'

/** What people read counts from 1; edge 3 runs from corner 3 to the next. */
export const corners = {
  edit: 'Edit its corners',
  make: 'Turn it into corners to edit',
  leave: 'Done with its corners',
  title: (count: number): string => `Its ${count} corners`,
  which: 'The corner in hand',
  one: (corner: number, x: string, y: string): string => `${corner}: at ${x}, ${y}`,
  x: 'Corner x',
  y: 'Corner y',
  bow: 'The edge to the next bows out by',
  bowHelp: (corner: number, next: number): string =>
    `The edge from corner ${corner} to corner ${next}: 0 is straight, a number below 0 bows into the shape.`,
  arc: (radius: string): string => `It is an arc of radius ${radius} mm.`,
  round: 'Round it off by radius',
  noRoom: (most: string): string => `There is room for a radius of at most ${most} mm here. ${AS_IT_WAS}`,
  noRound: `Only a corner between two straight edges that meet at an angle can be rounded off. ${AS_IT_WAS}`,
  add: 'Add a corner after it',
  remove: 'Remove this corner',
  help: 'Drag a corner, or the small cross on an edge to add one there. By keys: arrows move the corner, Page Up and Page Down go to the others, Insert adds one after it, Delete removes it; Enter puts it down, Escape takes it back.',
  said: (corner: number, x: string, y: string): string => `Corner ${corner} at ${x}, ${y} mm`,
  handle: (corner: number, of: number, x: string, y: string, edge: string): string =>
    `Corner ${corner} of ${of}, at ${x}, ${y} mm; ${edge}`,
  edge: (bow: number, text: string): string =>
    bow === 0
      ? 'the edge to the next is straight'
      : `the edge to the next bows ${bow > 0 ? 'out' : 'in'} by ${text} mm`,
  /** Said while it is on its way. */
  fault: (fault: Fault): string => {
    switch (fault.kind) {
      case 'few':
        return `A shape needs three corners, or two with a round edge between them.`
      case 'twice':
        return `Corner ${fault.corner + 1} would lie on the one before it.`
      case 'crosses':
        return `The edge after corner ${fault.edges[0] + 1} would cross or touch the edge after corner ${fault.edges[1] + 1}.`
    }
  },
  refused: (fault: string): string => `${fault} ${AS_IT_WAS}`,
}
