/** IndexedDB's requests as promises. */
import { words } from '../words/index.ts'

export const answer = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((settle, fail) => {
    request.onsuccess = () => settle(request.result)
    request.onerror = () => fail(request.error ?? new Error(words.keep.storage.noReason))
  })
