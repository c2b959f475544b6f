/** Which tab may write a work: one at a time. By the browser's locks, and by messages between tabs. */

export interface Claim {
  /** Whether nobody else can have it; without locks that is not known. */
  readonly sure: boolean
  readonly release: () => void
}

export interface Told {
  /** Another tab wants the claim: whatever is to be written is written before this settles. */
  readonly lost: () => Promise<void>
  /** Another tab has opened the same work without the right to write it, or has left it again. */
  readonly also: (open: boolean) => void
}

export interface Claims {
  /** Undefined where another tab has it. `force` asks that tab to hand it over, and does not wait for ever. */
  readonly take: (id: string, told: Told, force?: 'force') => Promise<Claim | undefined>
  /** Says to the tab that has it that this one no longer looks on. */
  readonly leave: (id: string) => void
}

/** Milliseconds that a tab has to write what it has before it loses its claim: a sleeping one would never answer. */
const PATIENCE = 1500
/** Milliseconds that a page which is loaded again waits for the one that it was to be gone. */
const GOING = 1000

type Say = { readonly kind: 'give' | 'also' | 'gone'; readonly id: string }

interface Locks {
  readonly request: (
    name: string,
    options: { steal?: boolean; signal?: AbortSignal },
    held: () => Promise<void>,
  ) => Promise<unknown>
}

/**
 * Without locks (an old browser, or a page that is not served safely) every claim is granted: the shelf still refuses to write
 * over what it has not shown.
 */
export function claimsOfBrowser(locks: Locks | undefined, channel: BroadcastChannel | undefined): Claims {
  const holders = new Map<string, Told & { readonly free: () => void }>()
  const say = (message: Say): void => channel?.postMessage(message)
  if (channel)
    channel.onmessage = ({ data }: MessageEvent<Say>): void => {
      const holder = holders.get(data.id)
      if (!holder) return
      if (data.kind === 'give') void holder.lost().then(holder.free, holder.free)
      else holder.also(data.kind === 'also')
    }

  const request = (id: string, told: Told, options: Parameters<Locks['request']>[1]): Promise<Claim | undefined> =>
    new Promise((settle) => {
      if (!locks) {
        settle({ sure: false, release: () => {} })
        return
      }
      let had = false
      let given = false
      const ended = locks.request(`deckwright ${id}`, options, () => {
        had = true
        return new Promise<void>((end) => {
          const free = (): void => {
            given = true
            holders.delete(id)
            end()
          }
          holders.set(id, { ...told, free })
          settle({ sure: true, release: free })
        })
      })
      ended.catch(() => {
        // Taken by force after it was had; or not had in time.
        if (had && !given) {
          holders.delete(id)
          void told.lost()
        } else settle(undefined)
      })
    })

  const within = async (id: string, told: Told, wait: number): Promise<Claim | undefined> => {
    const patience = new AbortController()
    const over = setTimeout(() => patience.abort(), wait)
    const claim = await request(id, told, { signal: patience.signal })
    clearTimeout(over)
    return claim
  }

  return {
    take: async (id, told, force) => {
      if (!force) {
        const claim = await within(id, told, GOING)
        if (!claim) say({ kind: 'also', id })
        return claim
      }
      say({ kind: 'give', id })
      return (await within(id, told, PATIENCE)) ?? request(id, told, { steal: true })
    },
    leave: (id) => say({ kind: 'gone', id }),
  }
}
