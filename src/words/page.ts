/** The stage under the cards, and what is said where there is no 3D view or the page itself fails. */
export const page = {
  inHand: {
    none: 'Drag an item to where it should be: it is held there, and the others make room.',
    noneThere: 'No item has a place. Choose one in the list to put it on the deck yourself: it is held there.',
    empty: 'Nothing stands on this deck yet.',
    first: 'Add the first part…',
    another: 'Add another part…',
    turn: 'Turn',
    turnKeys: 'Shift and an arrow key',
    hold: 'Hold it here',
    free: 'Free it',
    built: 'It is built and stays here until you unmark it.',
    markBuilt: 'Mark it as built',
    markBuiltHow: 'It is not moved any more, by you or by the search, until you unmark it.',
    unmarkBuilt: 'Unmark it',
    unmarkBuiltHow: 'It stays held where it is, and can be moved and freed again.',
    notMoved: (item: string): string => `${item} was not moved, for it is marked as built. Unmark it first.`,
    notFreed: (item: string): string => `${item} was not freed, for it is marked as built. Unmark it first.`,
    deckOf: (item: string): string => `Deck of ${item}`,
    place: 'Put it on the deck',
  },
  noScene: {
    title: (why: string): string => `There is no 3D view: ${why}`,
    goesOn: 'The plan beside it goes on working, and the heights stand in the list of items.',
    noWebGl: 'this browser offers no WebGL, which draws it.',
    forbidden: 'this browser forbids WebGL, which draws it.',
  },
  failed: {
    title: 'The page cannot go on',
    how: (why: string): string =>
      `This is a mistake in Deckwright: ${why}. Your document is still here; save it and load the page again.`,
    save: 'Save',
  },
}
