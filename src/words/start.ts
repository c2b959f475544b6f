/** The start view, and what is said of files that come in. */
export const start = {
  title: 'What goes where on the deck?',
  promise:
    'Say what has to be mounted and what has to stay free. You get the best layout there is, what limits it, and the template to drill it by.',
  back: (name: string): string => `Back to “${name}”`,

  newTitle: 'Begin with an empty deck',
  width: 'Width',
  depth: 'Depth',
  make: 'New deck',

  openTitle: 'Open what you have',
  open: 'Open a file…',
  openHow: 'Or drop one anywhere on this page: a project, a layout of it, a part, or the drawing of a deck (SVG, DXF).',

  demosTitle: 'Or look at one that is there already',
  demo: (title: string, story: string): string => (story ? `${title}: ${story}` : title),
  demoSize: (width: string, depth: string, items: number, decks: number): string =>
    `${decks === 1 ? `One deck, ${width} × ${depth} mm` : `${decks} decks, the largest ${width} × ${depth} mm`}; ${items} items.`,
  scale: 'All to one scale. The bar is 50 mm long.',

  fileToOpen: 'Project file to open',
  notOpened: (file: string): string => `${file} was not opened`,
  asItWas: 'Your document is as it was.',
  inTheFile: 'In the file:',
  layoutElsewhere:
    'It is a layout, and fits no variant of the document on the stage. Open the project that it was made for first.',
  unreadable: 'It could not be read: it is a folder, it is damaged, or it has gone meanwhile.',
  other: 'It is neither a project, nor a layout, nor a part.',
  problem: (place: string, found: string, expected: string): { readonly place: string; readonly rest: string } => ({
    place: place || 'The file',
    rest: `found ${found}; expected ${expected}`,
  }),
  line: (place: string, line: number): string => `${place || 'The file'} (line ${line})`,
  more: (n: number): string => `And ${n} more like these.`,
  strange: 'Not understood in the file',
  partTaken: (name: string): string => `The part “${name}” is one of this project’s own now.`,
  laid: 'The layout is on the stage.',
}
