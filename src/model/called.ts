/** What copies are called where people read of them, on the page and on paper alike. Files that are data, and commands, keep the sign. */

/** A name: `board#2` → `board 2`. */
export const called = (id: string): string => id.replace('#', ' ')

/** The same for every name in a text. No name of an item has the sign otherwise. */
export const plain = (text: string): string => text.replace(/([^\s#])#(\d+)/g, '$1 $2')
