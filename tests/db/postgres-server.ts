import { execFileSync } from 'node:child_process'
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export interface PostgresServer {
  /** Connection string without a database's name. */
  readonly url: string
  /** Ends it as a crash does; its data stay. */
  crash(): void
  /** Starts it again where it was. */
  restart(): void
  stop(): void
}

/** Where Debian keeps the server's programs, newest version first; null where there are none. */
export function postgresBinaries(): string | null {
  const root = '/usr/lib/postgresql'
  const versions = existsSync(root) ? readdirSync(root).sort((a, b) => Number(b) - Number(a)) : []
  const folders = [process.env.PG_BIN, ...versions.map((version) => join(root, version, 'bin'))]
  return folders.find((folder) => folder && existsSync(join(folder, 'initdb'))) ?? null
}

const isRoot = process.getuid?.() === 0

/** The server refuses to run as root: there it runs as the user Debian makes for it. */
function run(program: string, args: readonly string[]): void {
  const quoted = [program, ...args].map((part) => `'${part.replaceAll("'", `'\\''`)}'`).join(' ')
  const [command, params] = isRoot ? ['su', ['postgres', '-c', quoted]] : ['sh', ['-c', quoted]]
  execFileSync(command, params, { stdio: 'pipe', cwd: tmpdir() })
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer().on('error', reject)
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address()
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
}

/** Starts a PostgreSQL of its own on a free port in a temporary folder. */
export async function startPostgres(binaries: string): Promise<PostgresServer> {
  const folder = mkdtempSync(join(tmpdir(), 'tankward-pg-'))
  if (isRoot) {
    const id = (kind: string) => Number(execFileSync('id', [kind, 'postgres'], { encoding: 'utf8' }))
    chownSync(folder, id('-u'), id('-g'))
  }
  const data = join(folder, 'data')
  const port = await freePort()
  run(join(binaries, 'initdb'), [
    '-D',
    data,
    '-A',
    'trust',
    '-U',
    'postgres',
    '-E',
    'UTF8',
    '--locale=C',
    '-N',
  ])
  const options = `-p ${port} -k ${folder} -c listen_addresses=127.0.0.1 -c fsync=off`
  const control = (...how: string[]) => run(join(binaries, 'pg_ctl'), ['-D', data, '-w', ...how])
  const restart = () => control('-l', join(folder, 'log'), '-o', options, 'start')
  const crash = () => control('-m', 'immediate', 'stop')
  restart()
  const stop = () => {
    process.off('exit', stop)
    crash()
    rmSync(folder, { recursive: true, force: true })
  }
  process.on('exit', stop)
  return { url: `postgres://postgres@127.0.0.1:${port}`, crash, restart, stop }
}
