/** Hands a text to the user as a file. */
export function download(name: string, text: string, type: string): void {
  const url = URL.createObjectURL(new Blob([text], { type }))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  // Some browsers read the address only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}
