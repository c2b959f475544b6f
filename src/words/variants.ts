/** Variants: their cards, what differs, two side by side, room for later, and the order of what matters. */

import { listed } from './listed.ts'
import { TURNED } from './turned.ts'

import { variantFields } from './variant-fields.ts'

type Goal = 'free-tie-points' | 'optional-value' | 'new-holes' | 'wire-length' | 'balance'

const GOAL: Readonly<Record<Goal, string>> = {
  'free-tie-points': 'most free contacts',
  'optional-value': 'most optional items',
  'new-holes': 'fewest new holes',
  'wire-length': 'shortest wires',
  balance: 'best balance',
}

interface Against {
  readonly contacts: number
  readonly value: number
  /** mm, as text without a sign; `more` says which way. */
  readonly wire?: { readonly mm: string; readonly more: boolean } | undefined
  readonly balance?: { readonly mm: string; readonly more: boolean } | undefined
}

const sign = (more: boolean): string => (more ? '+' : '−')
const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`
/** “+170 contacts, wire +62 mm”; empty where nothing differs. */
function short({ contacts, value, wire, balance }: Against): string {
  const parts = [
    ...(contacts === 0 ? [] : [`${sign(contacts > 0)}${count(Math.abs(contacts), 'contact')}`]),
    ...(value === 0 ? [] : [`optional items ${sign(value > 0)}${Math.abs(value)}`]),
    ...(wire ? [`wire ${sign(wire.more)}${wire.mm} mm`] : []),
    ...(balance ? [`off balance ${sign(balance.more)}${balance.mm} mm`] : []),
  ]
  return parts.join(', ')
}

/** The same to be read out. */
function long({ contacts, value, wire, balance }: Against): string {
  const parts = [
    ...(contacts === 0 ? [] : [`${count(Math.abs(contacts), `${contacts > 0 ? 'more' : 'fewer'} free contact`)}`]),
    ...(value === 0 ? [] : [`optional items worth ${Math.abs(value)} ${value > 0 ? 'more' : 'less'}`]),
    ...(wire ? [`wires ${wire.mm} mm ${wire.more ? 'longer' : 'shorter'}`] : []),
    ...(balance ? [`a balance ${balance.mm} mm ${balance.more ? 'worse' : 'better'}`] : []),
  ]
  return listed(parts)
}

const moves = (dx: number, dy: number, x: string, y: string): string[] => [
  ...(dx === 0 ? [] : [`${x} mm to the ${dx > 0 ? 'right' : 'left'}`]),
  ...(dy === 0 ? [] : [`${y} mm to the ${dy > 0 ? 'front' : 'back'}`]),
]

export const variants = {
  ...variantFields,
  title: 'Variants',
  stage: (variant: string): string => `Stage: ${variant}`,
  /** `without`: of how many no layout was found, and nothing else either. */
  progress: (answered: number, all: number, without = 0): string => {
    const some = `${answered} of ${all} variants ${answered === 1 ? 'has its answer' : 'have their answers'}`
    if (answered + without < all)
      return `${some}${without > 0 ? `, of ${without} no layout was found` : ''}; the solver is at work on the others.`
    if (without === 0) return all === 1 ? 'The variant has its answer.' : `All ${all} variants have their answers.`
    if (answered === 0)
      return all === 1 ? 'No layout of the variant was found.' : `Of none of the ${all} variants was a layout found.`
    return `${some}; of the other${without > 1 ? 's' : ''} no layout was found.`
  },
  card: {
    contacts: 'free contacts',
    conductor: 'mm of conductor',
    offBalance: 'mm off balance',
    without: (names: readonly string[]): string => `without ${names.join(', ')}`,
    short,
    against: (difference: string, other: string): string =>
      difference === '' ? `same figures as ${other}` : `${difference} against ${other}`,
    long: (a: Against, other: string): string => {
      const said = long(a)
      return said === '' ? `, with the same figures as ${other}` : `, compared with ${other}: ${said}`
    },
    isMark: 'Compared with this',
    mark: 'Compare with this',
    markOf: (variant: string): string => `Compare with this: ${variant}`,
    beside: 'Show beside',
    besideOf: (variant: string): string => `Show beside: ${variant}`,
    note: (variant: string): string => `Your note on ${variant}`,
    noteHere: 'Note…',
  },
  bar: {
    label: (variant: string): string => `What ${variant} asks`,
    rename: 'Rename…',
    name: (variant: string): string => `Name of ${variant}`,
    nameIt: 'Use this name',
    idStays: (id: string): string => `Files and commands go on calling it ${id}.`,
    leave: 'Leave it',
    copy: 'Add a copy',
    copyOf: (variant: string): string => `Add a copy of ${variant}`,
    remove: 'Delete',
    removeOf: (variant: string): string => `Delete ${variant}`,
    onlyOne: 'The only variant cannot be deleted.',
    differs: (n: number): string => (n === 0 ? 'Make it differ…' : `What differs here: ${count(n, 'thing')}`),
    wrong: (field: string, found: string, expected: string): string =>
      `This cannot be: ${field || 'the project'} would be ${found}; ${expected} is needed.`,
  },
  order: {
    label: 'What matters, in order',
    none: 'Any layout that fits is as good as any other.',
    goal: (goal: Goal): string => GOAL[goal],
    first: 'First ',
    /** What stands right behind a goal, and what leads to the next. */
    comma: ',',
    onwards: ' then ',
    end: '.',
    place: (goal: Goal, place: number, all: number): string => `${GOAL[goal]}, ${place} of ${all} in what matters`,
    earlier: (goal: Goal): string => `Earlier: ${GOAL[goal]}`,
    later: (goal: Goal): string => `Later: ${GOAL[goal]}`,
    leaveOut: (goal: Goal): string => `Leave out: ${GOAL[goal]}`,
    earlierShort: 'Earlier',
    laterShort: 'Later',
    leaveOutShort: 'Leave out',
    add: 'Also count',
    adding: 'add…',
    said: (goals: readonly Goal[]): string =>
      goals.length === 0 ? 'Nothing is counted now.' : `In this order now: ${goals.map((g) => GOAL[g]).join(', ')}.`,
    hint: 'Drag a part of the sentence, or use the left and right arrow keys on it, to put it earlier or later.',
  },
  differs: {
    title: (variant: string): string => `What differs in ${variant}`,
    none: 'Nothing: it asks what the project asks of all variants.',
    out: (list: 'omit' | 'release' | 'drop', entry: string): string =>
      list === 'omit'
        ? `${entry} is left out here.`
        : list === 'release'
          ? `Zone ${entry} is not kept free here.`
          : `${entry.charAt(0).toUpperCase()}${entry.slice(1)} is not there.`,
    wireOut: (entry: string): string => `Wire ${entry} is not there.`,
    undo: 'As in all',
    undoOf: (sentence: string): string => `As in all: ${sentence}`,
    change: 'Change something',
    what: 'What',
    how: 'How',
    to: 'To',
    scope: 'For',
    here: (variant: string): string => `only ${variant}`,
    all: 'all variants',
    doIt: 'Change it',
    settings: 'Rules of the whole project',
    items: 'Items',
    zones: 'Zones',
    wires: 'Wires',
    decks: 'Decks',
    zone: (id: string): string => `zone ${id}`,
    wire: (id: string): string => `wire ${id}`,
    project: 'clearances and grid',
    deeds: {
      omit: 'leave it out',
      unomit: 'have it',
      optional: 'it may be left out',
      required: 'it has to be there',
      later: 'only keep its place, for later',
      now: 'mount it now',
      count: 'how many of it',
      value: 'what it is worth',
      stack: 'height kept on top of it',
      turns: 'which way it may be turned',
      'own-place': 'where it must be, for this variant alone',
      'own-decks': 'on which decks, for this variant alone',
      'own-overhang': 'how far past an edge, for this variant alone',
      release: 'do not keep it free',
      keep: 'keep it free',
      'wire-out': 'leave it out',
      'wire-in': 'have it',
      maxLength: 'cut to at most',
      loop: 'length to spare',
      conductors: 'how many conductors',
      drop: 'leave it out',
      undrop: 'have it',
      z: 'height over the ground',
      thickness: 'thickness',
      grid: 'positions every',
      edgeClearance: 'from body to edge, at least',
      itemClearance: 'from body to body, at least',
      minWeb: 'solid deck between holes, at least',
    },
    turn: ['not turned', 'a quarter to the left', 'half round', 'a quarter to the right'] as const,
    done: 'Changed.',
    nowHere: (item: string): string =>
      `What you change of this with “Change” at ${item} in the list of items is now for this variant alone.`,
  },
  room: {
    title: 'Room for later parts',
    none: 'This project keeps no room for later parts.',
    zone: (id: string, why: string | undefined): string => (why ? `Zone ${id} (${why})` : `Zone ${id}`),
    item: (id: string): string => `The place of ${id}`,
    kept: (what: string): string => `${what} is kept free here.`,
    released: (what: string): string => `${what} is released here.`,
    release: 'Release it',
    keep: 'Keep it',
    releaseOf: (what: string): string => `Release it: ${what}`,
    keepOf: (what: string): string => `Keep it: ${what}`,
    both: 'Try it in a variant of its own',
    bothOf: (what: string): string => `Try it in a variant of its own: ${what}`,
    /** `onShow`: the layout that is compared with, which is the best known, is the one on show. */
    cost: (kept: boolean, a: Against, proven: boolean, onShow: boolean): string => {
      const said = long(a)
      const other = kept ? 'Released' : 'Kept'
      const what = said === '' ? 'the same figures' : said
      if (onShow) return proven ? `${other}, it would have ${what}.` : `${other}, the best found so far has ${what}.`
      // as short as the others, or the stage would jump when an item is dropped
      const way = kept ? 'released' : 'kept'
      return proven
        ? `Best against best, ${way} it would have ${what}.`
        : `Best so far against best so far, ${way} it has ${what}.`
    },
    cannot: (kept: boolean): string => (kept ? 'Nothing fits with it released.' : 'Nothing fits with it kept.'),
    looking: (kept: boolean): string => `What it comes to with it ${kept ? 'released' : 'kept'} is being worked out.`,
    never: 'What it costs has not been worked out yet.',
    unsound: 'What it costs shows when this variant has a layout that fits.',
  },
  two: {
    label: (here: string, there: string): string => `${here} and ${there} side by side`,
    plan: (variant: string): string => `Plan of ${variant}, seen from above, front at the top`,
    working: 'is the one you change',
    sceneWait: 'The 3D view is on its way…',
    work: (variant: string): string => `Work on ${variant}`,
    close: 'Show one alone',
    same: 'Everything stands in the same place in both.',
    apart: (there: string): string => `In ${there}:`,
    onlyHere: (item: string): string => `${item} is not there`,
    onlyThere: (item: string): string => `${item} is there only`,
    moved: (
      item: string,
      dx: number,
      dy: number,
      x: string,
      y: string,
      turns: 0 | 1 | 2 | 3,
      deck?: string,
    ): string => {
      const parts = [...(deck ? [`on ${deck}`] : moves(dx, dy, x, y)), ...(turns ? [TURNED[turns]] : [])]
      return `${item} stands ${parts.join(', ')}`
    },
    was: 'where it stands in the other',
  },
}
