/** Files as they come from a drop or a picker, read whole. */
import type { DragEvent } from 'react'
import type { Dropped } from '../store/arrive-all.ts'
import type { Source } from './bring-files.ts'

export const hasFiles = (event: { readonly dataTransfer: DataTransfer | null }): boolean =>
  event.dataTransfer?.types.includes('Files') ?? false

/** Props of a dialog that takes what is dropped on it, before the page around it does. */
export const dropped = (take: (files: readonly File[]) => void) => ({
  onDragOver: (event: DragEvent): void => {
    if (hasFiles(event)) event.preventDefault()
  },
  onDrop: (event: DragEvent): void => {
    if (!hasFiles(event) || event.defaultPrevented) return
    event.preventDefault()
    take([...event.dataTransfer.files])
  },
})

/** Each by itself: one that cannot be read, as a folder cannot, leaves the others. */
export const readEach = (files: Iterable<File>): Promise<Dropped[]> =>
  Promise.all(
    [...files].map(async (file) => {
      const bytes = await file.arrayBuffer().then(
        (all) => new Uint8Array(all),
        () => undefined,
      )
      return { name: file.name, bytes }
    }),
  )

/** Undefined where one of them cannot be read, as a folder cannot. */
export async function sourcesOf(files: Iterable<File>): Promise<readonly Source[] | undefined> {
  try {
    return await Promise.all(
      [...files].map(async (file) => ({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) })),
    )
  } catch {
    return undefined
  }
}
