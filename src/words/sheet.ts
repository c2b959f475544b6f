/** The findings sheet: what stops the job, what is worth knowing, how far a solve has come, what would make it fit, what is held. */
const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

export const sheet = {
  title: 'Findings',
  beingLookedAt: 'Being looked at…',
  notLookedAt: (error: string): string => `The layout could not be looked at: ${error}`,
  fine: 'Nothing is wrong in this layout.',
  stops: (n: number): string => (n === 1 ? 'This stops the job' : `These ${n} stop the job`),
  worthKnowing: (n: number): string => (n === 1 ? 'Worth knowing' : `Worth knowing (${n})`),
  more: (n: number): string => `Show ${n} more`,
  fewer: 'Show fewer',
  notSaid: (n: number): string => `Not looked at, for the project does not say enough: ${count(n, 'point')}`,
  asItStands: 'And as it stands:',
  /** After what stops the job in a layout that keeps every rule; `best` = it is proven to be the best, `held` = with what is held. */
  evenSo: (best: boolean, held: boolean): string =>
    best
      ? `Apart from that, no other layout${held ? ' with what is held' : ''} is better by what is counted.`
      : 'Apart from that, everything has a place that keeps the rules.',
  missing: (text: string, mm: string): string => `${text} ${mm} mm is missing.`,

  reached: 'What is reached',
  stop: 'Stop looking',
  stopHow: 'The best so far is kept.',
  lookOn: 'Look on for half a minute',
  rearrange: 'Find the best with what is held',
  rearrangeFree: 'Take the best layout',

  remediesTitle: 'What would make it fit',
  remediesAsking: 'Trying what would make it fit…',
  remediesNone: 'No single change that was tried makes it fit.',
  remediesNoneYet: 'None was found in the time there was.',
  remediesFailed: (error: string): string => `What would make it fit could not be tried: ${error}`,
  remediesMore: 'Not everything was tried: there may be smaller changes.',
  refused: (path: string, found: string, expected: string): string =>
    `That was not done: at ${path} stands ${found}, expected is ${expected}.`,
  noRemedy: 'Undo brings everything back.',

  equalAsk: 'Another layout with the same figures?',
  equalAgain: 'Look half a minute for another',
  equalAsking: 'Looking for other layouts with the same figures…',
  equalNone: (proven: boolean): string =>
    proven
      ? 'No other layout has the same figures.'
      : 'No other layout with the same figures was found in the time there was.',
  equalFailed: (error: string): string => `Other layouts with the same figures could not be looked for: ${error}`,
  equal: 'Layouts with the same figures',
  equalFirst: (all: number): string => `The first of ${count(all, 'layout')} with the same figures.`,
  equalOn: (k: number, all: number, elsewhere: number): string =>
    `Another layout with the same figures, ${k} of ${all}: ${count(elsewhere, 'item')} ${elsewhere === 1 ? 'stands' : 'stand'} elsewhere.`,
  /** The best so far was outdone while others like it were looked for. */
  betterShown: (all: number): string =>
    `A better layout was found on the way, and is shown now.${all > 1 ? ` It is the first of ${all} with the same figures.` : ''}`,
  /** Behind a layout of one's own. */
  betterFirst: (others: number): string =>
    `Your layout is not the best: ${count(others, 'better one')} ${others === 1 ? 'was' : 'were'} found.`,
  betterOn: (k: number, all: number, elsewhere: number): string =>
    `A better layout than yours, ${k} of ${all}: ${count(elsewhere, 'item')} ${elsewhere === 1 ? 'stands' : 'stand'} elsewhere.`,
  equalBefore: 'The one before',
  equalNext: 'The next one',

  held: 'Held where you put them',
  free: (name: string): string => `Free ${name}`,
  freeShort: 'free',
  freeAll: 'Free all',
  built: 'Built where they stand',
  builtHow: 'They are not moved, and not freed with the others, until they are unmarked. Unmarked, they stay held.',
  unmark: (name: string): string => `Unmark ${name}`,
  unmarkShort: 'unmark',
}
