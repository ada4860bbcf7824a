import { setTimeout } from 'node:timers/promises'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'

/** How long, and for how many looks at least, a fault must stand before it counts. */
const STANDS_MS = 8_000
const STANDS_LOOKS = 3
const BETWEEN_MS = 300

/**
 * Rules of accessibility that the page breaks by axe, each with the first element that does. Between layout and script
 * a page has moments that nobody meets (what scrolls can be reached by keyboard only once its size has been seen), so
 * only what is still there after some looks is told.
 * @param leaveOut selectors of what is not looked at
 */
export async function faults(page: Page, leaveOut: readonly string[] = []): Promise<string[]> {
  const until = Date.now() + STANDS_MS
  for (let looks = 1; ; looks += 1) {
    const axe = new AxeBuilder({ page })
    for (const part of leaveOut) axe.exclude(part)
    const { violations } = await axe.analyze()
    if (violations.length === 0 || (looks >= STANDS_LOOKS && Date.now() >= until))
      return violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 200)}`)
    await setTimeout(BETWEEN_MS)
  }
}

/** Holds the page to fit into its window without sideways scrolling, once charts and tables have taken its width. */
export async function expectToFit(page: Page): Promise<void> {
  const over = () =>
    page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  await expect.poll(over, { message: `pixels wider than the window at ${page.url()}` }).toBeLessThanOrEqual(0)
}

/** Faults and sideways scrolling at windows of several widths and schemes. */
export async function faultsAt(
  page: Page,
  windows: readonly {
    readonly width: number
    readonly height: number
    readonly colorScheme: 'light' | 'dark'
  }[],
): Promise<string[]> {
  const found: string[] = []
  for (const { width, height, colorScheme } of windows) {
    await page.setViewportSize({ width, height })
    await page.emulateMedia({ colorScheme })
    found.push(...(await faults(page)).map((fault) => `${width} ${colorScheme} ${fault}`))
    await expectToFit(page)
  }
  return found
}
