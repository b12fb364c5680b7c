import { Worker } from 'node:worker_threads'
import type { JobSheet, Paper } from '../jobs/sheet/sheet'

/** What the thread is asked for, and what it gives. */
export type Order = { number: number; sheet: JobSheet; paper: Paper }
export type Printed = { number: number } & ({ bytes: Uint8Array } | { fault: unknown })

type Waiting = { resolve: (bytes: Uint8Array) => void; reject: (fault: unknown) => void }

/**
 * Prints sheets in a thread of its own, which is begun with the first one: a sheet takes a hundred times as long as an
 * answer, and nobody else should wait for it.
 *
 * @param script the built `sheet-printer`
 * @returns what `renderSheetPdf` returns; rejects with its fault, or where the thread fell, which is then begun anew
 */
export function printingApart(script: string): (sheet: JobSheet, paper: Paper) => Promise<Uint8Array> {
  const waiting = new Map<number, Waiting>()
  let orders = 0
  let thread: Worker | undefined

  const begun = (): Worker => {
    const worker = new Worker(script)
    worker.on('message', (printed: Printed) => {
      const order = waiting.get(printed.number)
      waiting.delete(printed.number)
      if ('bytes' in printed) order?.resolve(printed.bytes)
      else order?.reject(printed.fault)
    })
    const fallen = (fault: unknown) => {
      if (thread === worker) thread = undefined
      for (const order of waiting.values()) order.reject(fault)
      waiting.clear()
    }
    worker.once('error', fallen)
    worker.once('exit', (code) => fallen(new Error(`the printing thread ended with ${code}`)))
    // It ends with the server, which waits for whoever waits for a sheet. Said last: whoever listens to a thread holds on
    // to it again.
    worker.unref()
    return worker
  }

  return (sheet, paper) =>
    new Promise((resolve, reject) => {
      thread ??= begun()
      orders += 1
      waiting.set(orders, { resolve, reject })
      thread.postMessage({ number: orders, sheet, paper } satisfies Order)
    })
}
