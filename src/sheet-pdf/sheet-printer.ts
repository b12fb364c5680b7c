import { parentPort } from 'node:worker_threads'
import type { Order, Printed } from './printing-apart'
import { renderSheetPdf } from './sheet-pdf'

/** The thread that prints sheets: one order after the other, each answered under its number. */
parentPort?.on('message', async ({ number, sheet, paper }: Order) => {
  const printed: Printed = await renderSheetPdf(sheet, paper).then(
    (bytes) => ({ number, bytes }),
    (fault: unknown) => ({ number, fault }),
  )
  parentPort?.postMessage(printed)
})
