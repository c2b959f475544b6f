/** A binary heap of variables, the most active on top. Only eligible ones are ever decided on. */
export class Heap {
  activity = new Float64Array(1024)
  eligible = new Uint8Array(1024)
  private at = new Int32Array(1024).fill(-1)
  private heap: number[] = []
  private step = 1

  grow(count: number): void {
    if (count <= this.activity.length) return
    const size = Math.max(count, this.activity.length * 2)
    const activity = new Float64Array(size)
    activity.set(this.activity)
    const eligible = new Uint8Array(size)
    eligible.set(this.eligible)
    const at = new Int32Array(size).fill(-1)
    at.set(this.at)
    this.activity = activity
    this.eligible = eligible
    this.at = at
  }

  allow(v: number, activity: number): void {
    this.eligible[v] = 1
    this.activity[v] = activity
    this.insert(v)
  }

  insert(v: number): void {
    if (this.at[v]! >= 0) return
    this.at[v] = this.heap.length
    this.heap.push(v)
    this.up(this.at[v]!)
  }

  /** The most active, taken out; −1 when empty. */
  pop(): number {
    const top = this.heap[0]
    if (top === undefined) return -1
    const last = this.heap.pop()!
    this.at[top] = -1
    if (this.heap.length > 0 && last !== top) {
      this.heap[0] = last
      this.at[last] = 0
      this.down(0)
    }
    return top
  }

  /** Took part in a conflict. */
  bump(v: number): void {
    if (!this.eligible[v]) return
    this.activity[v]! += this.step
    if (this.activity[v]! > 1e100) {
      for (let i = 0; i < this.activity.length; i++) this.activity[i]! *= 1e-100
      this.step *= 1e-100
    }
    if (this.at[v]! >= 0) this.up(this.at[v]!)
  }

  /** Later conflicts count more (Moskewicz et al. 2001). */
  decay(): void {
    this.step /= 0.95
  }

  private up(i: number): void {
    const v = this.heap[i]!
    while (i > 0) {
      const parent = (i - 1) >> 1
      const u = this.heap[parent]!
      if (this.activity[u]! >= this.activity[v]!) break
      this.heap[i] = u
      this.at[u] = i
      i = parent
    }
    this.heap[i] = v
    this.at[v] = i
  }

  private down(i: number): void {
    const v = this.heap[i]!
    for (;;) {
      let child = 2 * i + 1
      if (child >= this.heap.length) break
      if (child + 1 < this.heap.length && this.activity[this.heap[child + 1]!]! > this.activity[this.heap[child]!]!)
        child++
      if (this.activity[this.heap[child]!]! <= this.activity[v]!) break
      this.heap[i] = this.heap[child]!
      this.at[this.heap[i]!] = i
      i = child
    }
    this.heap[i] = v
    this.at[v] = i
  }
}
