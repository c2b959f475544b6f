/** What keeps the page whole where there is no 3D: the reason in its place. */
import { Component, type ReactNode } from 'react'
import { words } from '../words/index.ts'

export function NoScene({ why }: { why: string }) {
  return (
    <div className="no-scene" role="note">
      <p>
        <b>{words.page.noScene.title(why)}</b>
      </p>
      <p>{words.page.noScene.goesOn}</p>
    </div>
  )
}

export class Boundary extends Component<{ children: ReactNode }, { why?: string }> {
  override state: { why?: string } = {}
  static getDerivedStateFromError(error: unknown): { why: string } {
    const text = error instanceof Error ? error.message : String(error)
    return { why: /[.!?]$/.test(text) ? text : `${text}.` }
  }
  override render(): ReactNode {
    return this.state.why ? <NoScene why={this.state.why} /> : this.props.children
  }
}

/** When the page itself fails: what happened, and the document, which is still whole, to take away. */
export class PageBoundary extends Component<{ children: ReactNode; onSave: () => void }, { why?: string }> {
  override state: { why?: string } = {}
  static getDerivedStateFromError(error: unknown): { why: string } {
    return { why: error instanceof Error ? error.message : String(error) }
  }
  override render(): ReactNode {
    if (!this.state.why) return this.props.children
    return (
      <main className="failed" role="alert">
        <h1>{words.page.failed.title}</h1>
        <p>{words.page.failed.how(this.state.why)}</p>
        <button type="button" onClick={this.props.onSave}>
          {words.page.failed.save}
        </button>
      </main>
    )
  }
}
