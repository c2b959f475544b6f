/** Where the browser keeps what the user sets, text by name: the part of its `Storage` that is used here. */
export interface Shelf {
  readonly getItem: (key: string) => string | null
  readonly setItem: (key: string, value: string) => void
}

/** Undefined where the browser keeps nothing: it may refuse even to say that it has a storage. */
export function shelf(): Shelf | undefined {
  try {
    return globalThis.localStorage
  } catch {
    return undefined
  }
}
