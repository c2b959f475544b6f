/** Hands a text or bytes to the user as a file. */
export function download(name: string, data: string | Uint8Array, type: string): void {
  const url = URL.createObjectURL(blobOf(data, type))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  // Some browsers read the address only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}

/** Bytes of ours always stand in memory that nobody shares, which the types of `Blob` ask for. */
export const blobOf = (data: string | Uint8Array, type: string): Blob =>
  new Blob([typeof data === 'string' ? data : (data as Uint8Array<ArrayBuffer>)], { type })
