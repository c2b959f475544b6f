/** The start view, and what is said of files that come in. */
import { listed } from './listed.ts'

const were = (names: readonly unknown[]): string => (names.length === 1 ? 'was' : 'were')

export const start = {
  title: 'What goes where on the deck?',
  promise:
    'Say what has to be mounted and what has to stay free. You get the best layout there is, what limits it, and the template to drill it by.',
  back: (name: string): string => `Back to “${name}”`,

  newTitle: 'Begin with an empty deck',
  width: 'Width',
  length: 'Length',
  make: 'New deck',

  openTitle: 'Open what you have',
  open: 'Open a file…',
  openHow:
    'Or drop files anywhere on this page: a project, a layout of it, parts, or the drawing of a deck or board. Several at once will do.',

  demosTitle: 'Or look at one that is there already',
  demo: (title: string, story: string): string => (story ? `${title}: ${story}` : title),
  demoSize: (width: string, depth: string, items: number, decks: number): string =>
    `${decks === 1 ? `One deck, ${width} × ${depth} mm` : `${decks} decks, the largest ${width} × ${depth} mm`}; ${items} items.`,
  scale: 'All to one scale. The bar is 50 mm long.',

  fileToOpen: 'Project file to open',
  notOpened: (file: string, several: boolean): string => `${file} ${several ? 'were' : 'was'} not opened`,
  asItWas: 'Your document is as it was.',
  inTheFile: 'In the file:',
  inFiles: 'In the files:',
  /** What was found and expected in a layout. */
  itsNames: (variant: string): string => `names of variant ${variant}`,
  noPlaces: 'an empty list',
  somePlaces: 'at least one item with a place',
  layoutElsewhere:
    'It is a layout, and fits no variant of the document on the stage. Open the project that it was made for first.',
  unreadable: 'It could not be read: it is a folder, it is damaged, or it has gone meanwhile.',
  nothing: 'There is nothing in it: the file is empty.',
  picture:
    'It is a picture. A photo of a plate can lie under the deck while you trace it: choose it in “Deck…”, under “A photo underneath”.',
  other:
    'It is neither a project, nor a layout, nor a part, nor the drawing of a deck (SVG, DXF) or the files of a circuit board (IDF, Gerber, drill).',
  /** Of several files that were not taken: what one is, and what would have been taken. */
  none: {
    unreadable: 'a folder, or what is damaged or gone',
    nothing: 'nothing: it is empty',
    picture: 'a picture',
    other: 'something else',
  },
  wanted: 'a project, a layout, a part, or the drawing of a deck or a board',
  files: (names: readonly string[]): string => listed(names),
  problem: (place: string, found: string, expected: string): { readonly place: string; readonly rest: string } => ({
    place: `${place || 'The file'}:`,
    rest: `found ${found}; expected ${expected}`,
  }),
  inOne: (file: string, place: string): string => (place ? `${file}, ${place}` : file),
  line: (place: string, line: number): string => `${place || 'The file'} (line ${line})`,
  more: (n: number): string => `And ${n} more like these.`,
  strange: (files: readonly string[]): string => `Not understood in ${listed(files)}`,
  passedOver: (field: string): string =>
    `What is not understood in “${field}” is passed over, and may be gone with the next save; all else is as the file has it.`,
  strangeToo: 'Not understood, and perhaps meant for what is missing:',
  partTaken: (name: string, replaced: boolean): string =>
    replaced
      ? `The part “${name}” took the place of the project’s part of its id. Undo brings the old one back.`
      : `The part “${name}” is one of this project’s own now.`,
  laid: 'The layout is on the stage.',

  /** Several files at once: what became of each. */
  project: (file: string): string => `${file} is open.`,
  parts: (names: readonly string[]): string =>
    names.length === 1
      ? `The part in ${names[0]} is one of this project’s own now.`
      : `The parts in ${listed(names)} are among this project’s own now.`,
  layout: (file: string): string => `The layout ${file} is on the stage.`,
  leftOver: (names: readonly string[], why: 'project' | 'layout' | 'part' | 'drawing'): string =>
    `${listed(names)} ${were(names)} not taken, for ${WHY[why]}. Drop ${names.length === 1 ? 'it' : 'them one by one'} again if you want ${names.length === 1 ? 'it' : 'them'}.`,
  notUsed: (names: readonly string[]): string => `${listed(names)} cannot be used; why stands above.`,
}

const WHY = {
  project: 'one project is open at a time',
  layout: 'one layout is taken at a time',
  part: 'another part of the same id came with it',
  drawing: 'one drawing is brought in at a time',
} as const
