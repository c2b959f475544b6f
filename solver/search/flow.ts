/**
 * The dearest circulation: maximise Σ flow·gain over arcs with capacities, flow conserved at every node. It is the dual
 * of "least Σ capacity·max(0, gain + x_tail − x_head) with x_head − x_tail ≥ gain on the uncapped arcs", which is what a
 * layout's fixed relations say of its wires along one axis (Ahuja, Magnanti & Orlin 1993, ch. 9: successive shortest
 * paths with potentials). All numbers whole, so the answer is exact.
 */

export class Flow {
  private nodes = 0
  count = 0
  tail = new Int32Array(256)
  head = new Int32Array(256)
  gain = new Float64Array(256)
  cap = new Float64Array(256)
  flow = new Float64Array(256)
  private x = new Float64Array(64)
  private low = new Float64Array(64)
  private excess = new Float64Array(64)
  private dist = new Float64Array(64)
  private done = new Uint8Array(64)
  private via = new Int32Array(64)
  private first = new Int32Array(64)
  private next = new Int32Array(512)

  /** Starts anew with nodes 0 … n−1. */
  reset(n: number): void {
    this.nodes = n
    this.count = 0
    if (n > this.x.length) {
      const size = 2 * n
      this.x = new Float64Array(size)
      this.low = new Float64Array(size)
      this.excess = new Float64Array(size)
      this.dist = new Float64Array(size)
      this.done = new Uint8Array(size)
      this.via = new Int32Array(size)
      this.first = new Int32Array(size)
    }
    this.first.fill(-1, 0, n)
  }

  /** Where a node may be at the least, with which no uncapped arc has gain + x_tail − x_head > 0, and where it is looked for first. */
  start(node: number, least: number, x = least): void {
    this.low[node] = least
    this.x[node] = Math.max(least, x)
  }

  /** Where a node would be for the least sum, once solved. */
  at(node: number): number {
    return this.x[node]!
  }

  /** `flow`: about as much as it may carry in the end. */
  add(tail: number, head: number, gain: number, cap: number, flow = 0): void {
    const a = this.count++
    if (a >= this.tail.length) this.grow()
    this.tail[a] = tail
    this.head[a] = head
    this.gain[a] = gain
    this.cap[a] = cap
    this.flow[a] = flow
    // both ways along the arc: 2a leaves its tail, 2a + 1 its head
    this.next[2 * a] = this.first[tail]!
    this.first[tail] = 2 * a
    this.next[2 * a + 1] = this.first[head]!
    this.first[head] = 2 * a + 1
  }

  private grow(): void {
    const n = this.tail.length * 2
    const ints = (old: Int32Array, size: number) => {
      const out = new Int32Array(size)
      out.set(old)
      return out
    }
    const floats = (old: Float64Array) => {
      const out = new Float64Array(n)
      out.set(old)
      return out
    }
    this.tail = ints(this.tail, n)
    this.head = ints(this.head, n)
    this.next = ints(this.next, 2 * n)
    this.gain = floats(this.gain)
    this.cap = floats(this.cap)
    this.flow = floats(this.flow)
  }

  /** The greatest Σ flow·gain; `flow` holds the circulation. */
  solve(): number {
    const { tail, head, gain, cap, flow, x, excess } = this
    this.lower()
    excess.fill(0, 0, this.nodes)
    for (let a = 0; a < this.count; a++) {
      const over = gain[a]! + x[tail[a]!]! - x[head[a]!]!
      const f = over > 0 ? cap[a]! : over < 0 ? 0 : Math.min(flow[a]!, cap[a]!)
      flow[a] = f === Number.POSITIVE_INFINITY ? 0 : f
      if (flow[a] === 0) continue
      excess[head[a]!]! += flow[a]!
      excess[tail[a]!]! -= flow[a]!
    }
    for (let u = 0; u < this.nodes; u++) while (excess[u]! > 0) if (!this.augment(u)) return Number.NEGATIVE_INFINITY
    let sum = 0
    for (let a = 0; a < this.count; a++) sum += flow[a]! * gain[a]!
    return sum
  }

  /** To the greatest positions that are feasible, none above where it was looked for: as the least ones are, there are such. */
  private lower(): void {
    const { tail, head, gain, cap, x, low, nodes } = this
    for (let round = 0, moved = true; moved && round <= nodes; round++) {
      moved = false
      for (let a = 0; a < this.count; a++) {
        if (cap[a] !== Number.POSITIVE_INFINITY) continue
        const [t, most] = [tail[a]!, x[head[a]!]! - gain[a]!]
        if (x[t]! <= most || x[t]! === low[t]!) continue
        x[t] = Math.max(low[t]!, most)
        moved = true
      }
    }
  }

  /** Sends what one node has too much along the cheapest way to one that lacks it. */
  private augment(source: number): boolean {
    const { tail, head, gain, cap, flow, x, excess, dist, done, via, first, next, nodes } = this
    dist.fill(Number.POSITIVE_INFINITY, 0, nodes)
    done.fill(0, 0, nodes)
    dist[source] = 0
    let sink = -1
    for (;;) {
      let u = -1
      let best = Number.POSITIVE_INFINITY
      for (let v = 0; v < nodes; v++)
        if (!done[v] && dist[v]! < best) {
          best = dist[v]!
          u = v
        }
      if (u === -1) return false
      done[u] = 1
      if (excess[u]! < 0) {
        sink = u
        break
      }
      for (let k = first[u]!; k !== -1; k = next[k]!) {
        const a = k >> 1
        const back = k & 1
        if (back ? flow[a]! <= 0 : flow[a]! >= cap[a]!) continue
        const v = back ? tail[a]! : head[a]!
        if (done[v]) continue
        const slack = gain[a]! + x[tail[a]!]! - x[head[a]!]!
        const far = best + Math.max(0, back ? slack : -slack)
        if (far < dist[v]!) {
          dist[v] = far
          via[v] = k
        }
      }
    }
    const reach = dist[sink]!
    for (let v = 0; v < nodes; v++) x[v]! -= Math.min(dist[v]!, reach)
    let amount = Math.min(excess[source]!, -excess[sink]!)
    for (let v = sink; v !== source; ) {
      const k = via[v]!
      const a = k >> 1
      amount = Math.min(amount, k & 1 ? flow[a]! : cap[a]! - flow[a]!)
      v = k & 1 ? head[a]! : tail[a]!
    }
    for (let v = sink; v !== source; ) {
      const k = via[v]!
      const a = k >> 1
      flow[a]! += k & 1 ? -amount : amount
      v = k & 1 ? head[a]! : tail[a]!
    }
    excess[source]! -= amount
    excess[sink]! += amount
    return true
  }
}
