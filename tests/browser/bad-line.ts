import { connect, createServer, type Socket } from 'node:net'

/** A line to a server that can be cut: what the browser sends goes through it, and can be counted. */
export interface BadLine {
  readonly address: string
  /** Bytes that went up so far. */
  sent(): number
  /** Cuts every connection once so many more bytes have gone up, and takes no new one until it is mended. */
  breakAfter(bytes: number): void
  isBroken(): boolean
  mend(): void
  close(): Promise<void>
}

/** @param pauseMs wait after each piece that goes up, so that something is seen of a local upload */
export async function badLine(server: string, pauseMs: number): Promise<BadLine> {
  const { hostname, port } = new URL(server)
  const open = new Set<Socket>()
  let sent = 0
  let breaksAt = Number.POSITIVE_INFINITY
  let isBroken = false
  const cut = () => {
    isBroken = true
    // Reset, as when a radio link is gone: neither side is told that this was the end.
    for (const socket of open) socket.resetAndDestroy()
  }
  const line = createServer((near) => {
    if (isBroken) {
      near.resetAndDestroy()
      return
    }
    const far = connect(Number(port), hostname)
    for (const socket of [near, far]) {
      open.add(socket)
      socket.on('error', () => {})
      socket.on('close', () => {
        open.delete(socket)
        near.destroy()
        far.destroy()
      })
    }
    far.pipe(near)
    near.on('data', (bytes) => {
      far.write(bytes)
      sent += bytes.length
      if (sent >= breaksAt) return cut()
      near.pause()
      setTimeout(() => near.resume(), bytes.length > 10_000 ? pauseMs : 0)
    })
  })
  await new Promise<void>((resolve) => line.listen(0, '127.0.0.1', resolve))
  const own = line.address()
  return {
    address: `http://127.0.0.1:${own && typeof own === 'object' ? own.port : 0}`,
    sent: () => sent,
    breakAfter: (bytes) => {
      breaksAt = sent + bytes
    },
    isBroken: () => isBroken,
    mend: () => {
      isBroken = false
      breaksAt = Number.POSITIVE_INFINITY
    },
    close: () =>
      new Promise((resolve) => {
        line.close(() => resolve())
        for (const socket of open) socket.destroy()
      }),
  }
}
