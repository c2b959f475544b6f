/** The head of the page. */
export const head = {
  maker: 'Deckwright',
  undo: 'Undo',
  undoKeys: 'Ctrl-Z',
  redo: 'Redo',
  redoKeys: 'Ctrl-Shift-Z',
  start: 'Start view',
  save: 'Save a file',
  rename: 'Rename',
  renameLong: 'Rename the document',
  nameLabel: 'Name of the document',
  nameKeep: 'Keep this name',
  nameLeave: 'Leave it',
  nameWrong: (found: string, expected: string): string => `This is ${found}; needed is ${expected}.`,
  pageTitle: (name: string): string => `${name} · Deckwright`,
}
