import { parentPort, workerData } from 'node:worker_threads'
import { readPlantFiles } from './plantFiles.ts'

parentPort!.postMessage(readPlantFiles(workerData as string[]))
