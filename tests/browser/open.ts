import type { Page } from 'playwright-core'

/**
 * Waits until the page answers: until its script has taken over every entry and button that stands in it.
 * What is clicked or filled in before is lost, and on a busy machine that is a matter of chance.
 */
export async function answering(page: Page): Promise<void> {
  await page.waitForFunction(() => {
    const controls = [...document.querySelectorAll('main :is(a, button, input, select, textarea)')]
    // React marks what is its own.
    return (
      document.querySelector('main') !== null &&
      controls.every((control) => Object.keys(control).some((key) => key.startsWith('__react')))
    )
  })
}

export async function open(page: Page, address: string): Promise<void> {
  await page.goto(address)
  await answering(page)
}

export async function reload(page: Page): Promise<void> {
  await page.reload()
  await answering(page)
}
