/** Colours of the theme in force, for a canvas that cannot read custom properties itself. */
export interface Ink {
  readonly ink: string
  readonly soft: string
  readonly rule: string
  readonly sheet: string
  readonly accent: string
  /** Font of the page; a canvas does not inherit it. */
  readonly font: string
  readonly token: (name: string) => string
}

/** Resolves custom properties beside `element`; `light-dark()` needs a real property to be computed. */
export function inkOf(element: HTMLElement): Ink {
  const probe = document.createElement('span')
  probe.style.display = 'none'
  element.parentElement?.append(probe)
  const token = (name: string) => {
    probe.style.color = `var(${name})`
    return getComputedStyle(probe).color
  }
  const known = new Map<string, string>()
  const once = (name: string) => {
    const found = known.get(name)
    if (found) return found
    element.parentElement?.append(probe)
    const colour = token(name)
    probe.remove()
    known.set(name, colour)
    return colour
  }
  const ink = {
    ink: once('--ink'),
    soft: once('--ink-soft'),
    rule: once('--rule'),
    sheet: once('--sheet'),
    accent: once('--accent'),
    font: getComputedStyle(element).fontFamily,
    token: once,
  }
  probe.remove()
  return ink
}
