/** IndexedDB's requests as promises. */
export const answer = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((settle, fail) => {
    request.onsuccess = () => settle(request.result)
    request.onerror = () => fail(request.error ?? new Error('the storage gave no reason'))
  })
