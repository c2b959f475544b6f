/** The export sheet: kinds of files, how they are made, and what is said beside each preview. */
const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`

export const files = {
  noThread: 'the part of the page that writes files could not be loaded',
  title: (variant: string): string => `Files to make ${variant} from`,
  close: 'Close',
  what: 'What to make',
  kind: {
    svg: { name: 'SVG', use: 'for the cutter' },
    dxf: { name: 'DXF', use: 'for a machine shop' },
    pdf: { name: 'PDF', use: 'on paper, at 1:1' },
    tables: { name: 'CSV', use: 'tables' },
    pictures: { name: 'PNG', use: 'pictures' },
    gltf: { name: 'glTF', use: '3D model' },
  },
  beingMade: 'The files are being made.',
  ready: (n: number): string => `${count(n, 'file')} ready.`,
  coming: 'The files are being made…',
  refused: (why: string): string => `It cannot be made like this: ${why}.`,
  nothing: 'Nothing is asked for.',
  download: (name: string): string => `Download ${name}`,
  remembered: 'This browser remembers kerf, tabs, letters, colours and paper for the next time.',
  notRemembered: 'This browser keeps nothing, so the next time begins anew.',
  anew: 'Begin anew',
  before: 'Before you begin',

  toPrint: 'To print',
  planPicture: 'Plan from above',
  roundPicture: 'The robot’s decks in 3D',
  drill: 'Holes to drill',
  drillIn: (deck: string): string => `Holes to drill in ${deck}`,
  hardware: 'Screws, nuts and what else holds it',
  wires: 'Wires to cut',
  straight: 'Lengths are for straight ways, as if nothing stood in them: check each with a thread before you cut.',
  headers: 'Header pins to snap off',
  bill: 'Bill of items',
  emptyTable: 'Nothing stands in it: this layout asks for none.',

  how: 'How it is made',
  drawn: 'Drawn',
  onLight: 'on light ground',
  onDark: 'on dark ground',
  exists: 'The plate exists already: only new holes, slots and cut-outs are made.',
  /** The sentences with a field in them: what stands before it, between two, and after the last. */
  kerf: ['The cut takes away', 'mm; the lines move aside by half of it.'],
  kerfLabel: 'Kerf, mm',
  tabs: ['Leave', 'tabs of', 'mm standing in each larger cut line.'],
  tabsLabel: 'Tabs in each larger cut line',
  tabWidthLabel: 'Width of a tab, mm',
  laserHoles: 'New holes are cut by the machine too, instead of drilled.',
  marksAsPaths: 'Labels are single lines, for machines that have no letters.',
  together: 'All decks lie side by side in one file.',
  dxfFor: 'For programs that read',
  dxf: { r2000: 'DXF of 2000 and later', r12: 'only old DXF (R12)' },
  colours: 'Colours, by which a machine tells cuts from marks',
  group: {
    cut: 'cuts',
    drill: 'holes to drill',
    existing: 'what is there already',
    mark: 'marks',
    notes: 'notes',
  },
  coloursBack: 'Colours as they were',
  paper: 'Printed on',
  papers: { A4: 'A4', Letter: 'Letter' },
  listComing: 'The check list before power joins these pages once the layout has been looked at.',
  pdfPart: {
    template: 'The decks at 1:1, over as many sheets as they take.',
    assembly: 'The assembly sheet: plan, order of work, hardware, wires.',
    'before-power': 'The check list before power, with boxes to tick.',
    dummies: 'Paper dummies of every part, to cut out and try by hand.',
  },

  sideBySide: (decks: readonly string[]): string => `${decks.join(' and ')}, side by side`,
  asInFile: (title: string): string => `${title}, as it stands in the file`,
  drawingSize: (width: number, height: number): string => `${width} × ${height} mm, notes and all, at 1:1`,
  pictureSize: (width: number, height: number): string => `${width} × ${height} pixels`,
  readBack: (title: string): string => `${title}, read back from the file`,
  dxfHow: (unit: string, layers: readonly string[]): string =>
    `Read back from the file; one unit is one ${unit}. ${layers.join('. ')}.`,
  dxfLayer: (name: string, lines: number, texts: number): string => {
    const parts = [lines > 0 ? count(lines, 'line') : '', texts > 0 ? count(texts, 'text') : '']
    return `Layer ${name}: ${parts.filter(Boolean).join(' and ')}`
  },
  pages: (n: number, paper: string): string =>
    `${count(n, 'page')} on ${paper}. Print them at 100 %, not fit to page, and measure the bars.`,
  sheetsOf: (deck: string, n: number): string => `${deck} over ${count(n, 'sheet')}`,
  sheetsAt: (deck: string, n: number): string => `${deck}: ${count(n, 'sheet')} at 1:1`,
  look: ['Look at the pages', 'in a window of their own.'],
  pagesOf: (name: string): string => `Pages of ${name}`,
  solid: (parts: number, triangles: number, kB: number): string =>
    `${count(parts, 'part')} of ${count(triangles, 'triangle')} together, ${kB} kB, in metres as the format asks for. Read back from the file:`,
} as const
