import { mkdir, writeFile } from 'node:fs/promises'
import { fileURLToPath } from 'node:url'
import { PLANT_SITE } from './plant'
import { type SampleLog, sampleLogs } from './sample-logs'

const SITE_FILE = 'mill-lane.site.json'

function readme(logs: readonly SampleLog[]): string {
  const sections = logs.map(
    ({ name, about, machine }) => `## ${name}.csv

${machine.name}. ${about}

\`\`\`
npm run --silent analyse -- sample-logs/${name}.csv --machine sample-logs/${name}.machine.json --site sample-logs/${SITE_FILE}
\`\`\`
`,
  )
  return `# Sample logs: all invented

No machine, plant or person here exists. The logs come from a simulator (\`app/_plant\`: equivalent-circuit
motor, bent pump and relief characteristics, sensors with offset, noise and lost cells) that shares nothing
with the analysis but the shapes of its files. \`npm run samples\` writes them again, always the same.

- \`NAME.csv\` is what a logger wrote, \`NAME.machine.json\` the machine as its plates describe it.
- \`NAME.truth.json\` is what really happened: the account in kWh over the logged time, the phases in seconds
  from the first sample, and what a change would have saved, found by simulating the same demand again.
- \`${SITE_FILE}\` is the site they share. Its costs are placeholders, not quotes.

${sections.join('\n')}`
}

async function write(): Promise<void> {
  const folder = new URL('../../sample-logs/', import.meta.url)
  await mkdir(folder, { recursive: true })
  const put = (name: string, text: string) => writeFile(new URL(name, folder), text)
  const json = (value: unknown) => `${JSON.stringify(value, null, 2)}\n`
  const logs = sampleLogs()
  for (const { name, csv, machine, truth } of logs) {
    await put(`${name}.csv`, csv)
    await put(`${name}.machine.json`, json(machine))
    await put(`${name}.truth.json`, json(truth))
  }
  await put(SITE_FILE, json(PLANT_SITE))
  await put('README.md', readme(logs))
  console.error(`${logs.length} sample logs in ${fileURLToPath(folder)}`)
}

await write()
