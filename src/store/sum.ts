/** A short sum of a text, by which it is known again: FNV-1a, 32 bit (Fowler, Noll, Vo). */
export function sumOf(text: string): string {
  let h = 0x811c9dc5
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193)
  return (h >>> 0).toString(36)
}
