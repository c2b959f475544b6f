/** Whether this browser can draw a 3D view: asked once, and when the page has a moment, since a drawing surface takes the browser some time. */
import { useEffect, useState } from 'react'
import { words } from '../words/index.ts'

/** `why` it cannot be had; undefined where it can. */
export interface Found {
  readonly why: string | undefined
}

let found: Found | undefined

function ask(): Found {
  try {
    const context = document.createElement('canvas').getContext('webgl2')
    if (!context) return { why: words.page.noScene.noWebGl }
    // Browsers allow only so many of these at a time.
    context.getExtension('WEBGL_lose_context')?.loseContext()
    return { why: undefined }
  } catch {
    return { why: words.page.noScene.forbidden }
  }
}

/** Undefined until it is known. What cannot be had is asked for again by the next view: it may have been taken away for a while. */
export function useWebGl(): Found | undefined {
  const [known, setKnown] = useState(found)
  useEffect(() => {
    if (known) return
    const later = setTimeout(() => {
      const now = found ?? ask()
      if (now.why === undefined) found = now
      setKnown(now)
    })
    return () => clearTimeout(later)
  }, [known])
  return known
}
