import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { sampleLogs } from '@/app/_plant/sample-logs'
import { siteSchema } from '@/lib/contract/site'

const file = (name: string) => readFileSync(new URL(`../../sample-logs/${name}`, import.meta.url), 'utf8')

describe('committed sample logs', () => {
  const logs = sampleLogs()

  it.each(logs)('$name is what the generator writes, and small', ({ name, csv, machine, truth }) => {
    expect(file(`${name}.csv`) === csv).toBe(true)
    expect(csv.length).toBeLessThan(400_000)
    expect(JSON.parse(file(`${name}.machine.json`))).toEqual(machine)
    expect(JSON.parse(file(`${name}.truth.json`))).toEqual(JSON.parse(JSON.stringify(truth)))
  })

  it('are marked as invented, each with its command, and share a valid site', () => {
    const readme = file('README.md')
    expect(readme).toContain('invented')
    for (const { name } of logs) expect(readme).toContain(`analyse -- sample-logs/${name}.csv`)
    expect(siteSchema.parse(JSON.parse(file('mill-lane.site.json'))).name).toContain('invented')
  })
})
