/** Reads someone else's building, away from the window. Its parser comes only when it is wanted. */
import { IfcAPI, LogLevel } from 'web-ifc'
import wasmAddress from 'web-ifc/web-ifc.wasm?url'
import { readIfc, type ReadBuilding } from '#sheets/ifc/readIfc.ts'

export interface ToIfc { readonly bytes: Uint8Array, readonly taken: readonly string[], readonly mostSolids: number }
export type FromIfc = ReadBuilding | { readonly why: string }

self.onmessage = ({ data: { bytes, taken, mostSolids } }: MessageEvent<ToIfc>) => {
  void read(bytes, taken, mostSolids).then((found) => { self.postMessage(found) }, (error: unknown) => {
    self.postMessage({ why: `the reader of IFC could not be started (${error instanceof Error ? error.message : String(error)})` } satisfies FromIfc)
  })
}

async function read(bytes: Uint8Array, taken: readonly string[], mostSolids: number): Promise<FromIfc> {
  const api = new IfcAPI()
  // in one thread: several need rights that a page served anywhere does not have
  await api.Init(() => wasmAddress, true)
  api.SetLogLevel(LogLevel.LOG_LEVEL_OFF)
  return readIfc(api, bytes, new Set(taken), mostSolids)
}
