/** What is said of keeping work: near the name, in banners, in the list of kept works. */

const MINUTE = 60_000
const HOUR = 60 * MINUTE

const plural = (n: number, one: string, many: string): string => (n === 1 ? one : many)

/** `at`, `now`: milliseconds since 1970. */
const ago = (at: number, now: number): string => {
  const passed = Math.max(0, now - at)
  if (passed < MINUTE) return 'just now'
  if (passed < HOUR) return `${Math.floor(passed / MINUTE)} min ago`
  if (passed < 24 * HOUR) return `${Math.floor(passed / HOUR)} h ago`
  return `on ${new Intl.DateTimeFormat('en', { dateStyle: 'long', timeStyle: 'short' }).format(at)}`
}

const why = {
  full: 'there is no room left in the browser’s storage',
  closed: 'this browser does not let the page keep anything, as in a private window',
  overtaken: 'another tab has written it since',
  failed: 'the browser’s storage does not work',
}

/** What the browser's storage itself did not say. */
const storage = {
  noReason: 'the storage gave no reason',
  none: 'this browser has no IndexedDB',
  noneForPictures: 'this browser has no storage for it',
  notOpened: 'it could not be opened',
  storageNotOpened: 'the storage could not be opened',
  olderForm: 'another tab keeps an older form of it open',
  overtaken: 'another tab wrote it since',
  slow: 'it has not answered for five seconds',
}

export const keep = {
  storage,
  ago,
  kept: (at: number, now: number): string => `Kept in this browser, ${ago(at, now)}`,
  notKept: (reason: keyof typeof why): string => `Not kept: ${why[reason]}`,
  notKeptHere: 'Not kept: it is open in another tab',
  nothing: 'Nothing to keep yet',

  refusedTitle: 'Your changes are not kept',
  refused: (reason: keyof typeof why): string =>
    `A reload would lose them, because ${why[reason]}. Save them as a file; each change tries again.`,
  saveFile: 'Save a file',
  tryAgain: 'Try again',

  elsewhereTitle: 'This deck is open in another tab',
  elsewhere: 'What you change here is not kept, so that the two do not write over each other.',
  takenTitle: 'Another tab works on this deck now',
  taken: 'What you change here from now on is not kept.',
  workHere: 'Work here instead',
  openCopy: 'Make it a copy',
  workHereHow:
    'Working here takes the deck as it is in the other tab; what you have changed here then stands among the kept works.',

  also: 'This deck is open in another tab too. Changes are kept from this one.',
  apart: 'What you had changed in this tab stands among the kept works, on the start view.',
  restored: (name: string, at: number, now: number): string => `“${name}” is as you left it, kept ${ago(at, now)}.`,
  toStart: 'Begin with something else',
  putAside: 'Put this aside',
  lostTitle: (name: string): string => `The last changes of “${name}” could not be kept`,
  lost: 'They are still here. Save them as a file before you leave the page.',
  renewed: 'A newer Deckwright has arrived. It is used when the page is loaded next; your work stays.',
  loadNow: 'Load it now',
  dropHere: 'Let go to open it',

  works: 'Kept in this browser',
  work: (name: string, at: number, now: number): string => `${name}, kept ${ago(at, now)}`,
  when: (at: number, now: number): string => `kept ${ago(at, now)}`,
  throwAway: (name: string, at: number, now: number): string => `Throw away ${name}, kept ${ago(at, now)}`,
  throwAwayShort: 'Throw away',
  asFile: (name: string, at: number, now: number): string => `Save ${name}, kept ${ago(at, now)}, as a file`,
  asFileShort: 'As a file',
  thrown: (name: string): string => `“${name}” is thrown away.`,
  putBack: 'Put it back',
  more: (n: number): string => `Show ${n} more ${plural(n, 'work', 'works')}`,
}
