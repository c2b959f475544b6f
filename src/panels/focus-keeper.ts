/**
 * Keeps the focus on the page where what had it is removed, hidden or disabled by what it did: else whoever works with keys would begin
 * again at the top. What a part of the page does for itself comes first.
 */

const FOCUSABLE = 'button, [href], input, select, textarea, summary, [tabindex]'
const PART = 'dialog, section, aside, nav, form, fieldset, li, header, main, .group'

const canTake = (element: Element): element is HTMLElement =>
  element instanceof HTMLElement &&
  element.isConnected &&
  !element.matches(':disabled, [tabindex="-1"]') &&
  element.matches(FOCUSABLE) &&
  element.checkVisibility({ visibilityProperty: true })

/** A part's heading, which takes the focus for it; or the first in it that takes any. */
function within(part: Element): HTMLElement | undefined {
  const heading = part.querySelector<HTMLElement>('h1, h2, h3')
  if (heading?.checkVisibility()) {
    if (!heading.hasAttribute('tabindex')) heading.tabIndex = -1
    return heading
  }
  return [...part.querySelectorAll(FOCUSABLE)].find(canTake)
}

export function keepFocus(root: HTMLElement): () => void {
  let last: Element | undefined
  /** What was around it, from the inside, for when it is gone. */
  let around: Element[] = []
  let byKeys = false
  let timer: ReturnType<typeof setTimeout> | undefined

  const lost = (): boolean => {
    const now = document.activeElement
    return now === null || now === document.body || (now instanceof HTMLElement && now.matches(':disabled'))
  }
  const gone = (element: Element): boolean =>
    !element.isConnected ||
    element.matches(':disabled') ||
    !element.checkVisibility({ visibilityProperty: true }) ||
    // Behind a dialog nothing can have it.
    (document.querySelector('dialog:modal') !== null && element.closest('dialog:modal') === null)

  const take = (): void => {
    timer = undefined
    if (!last || !lost()) return
    if (!gone(last)) {
      // Somebody clicked where nothing takes the focus.
      last = undefined
      return
    }
    const dialog = [...document.querySelectorAll('dialog:modal')].at(-1)
    // A button beside it, where it is only disabled.
    const beside = last.isConnected ? [...(last.parentElement?.children ?? [])].find(canTake) : undefined
    let to: HTMLElement | undefined = dialog && !dialog.contains(last) ? within(dialog) : beside
    for (const part of around) {
      if (to) break
      if (!part.isConnected || !part.checkVisibility()) continue
      // A part that is to take it for what is in it says so by its tab index.
      to =
        part instanceof HTMLElement && part.matches('[tabindex]') ? part : part.matches(PART) ? within(part) : undefined
    }
    to ??= within(document.body)
    to?.focus({ preventScroll: !byKeys })
  }
  const later = (): void => {
    timer ??= setTimeout(take)
  }
  const came = (event: FocusEvent): void => {
    if (!(event.target instanceof Element)) return
    last = event.target
    byKeys = last.matches(':focus-visible')
    around = []
    for (let at = last.parentElement; at && at !== document.body; at = at.parentElement) around.push(at)
  }
  const went = (event: FocusEvent): void => {
    if (event.relatedTarget === null) later()
  }
  const changed = new MutationObserver(() => {
    if (last && timer === undefined && lost()) later()
  })
  root.addEventListener('focusin', came)
  root.addEventListener('focusout', went)
  changed.observe(root, { childList: true, subtree: true, attributeFilter: ['disabled', 'open', 'hidden'] })
  return () => {
    clearTimeout(timer)
    changed.disconnect()
    root.removeEventListener('focusin', came)
    root.removeEventListener('focusout', went)
  }
}
