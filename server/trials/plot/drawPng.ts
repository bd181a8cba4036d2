import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { initWasm, Resvg } from '@resvg/resvg-wasm'

const FONT_PACKAGE = '@expo-google-fonts/open-sans'
const FAMILY = 'Open Sans'
/** Pixels of the picture for one of the drawing: sharp in print at a width of 13 cm. */
const ZOOM = 2

let ready: Promise<Uint8Array[]> | undefined

/**
 * An SVG picture as PNG, with fonts of its own: the machine needs none. The same picture gives the same bytes.
 * Letters that the font does not have (such as Chinese ones) stay empty in the PNG; the SVG has them.
 *
 * @throws what the reading of the picture or of the fonts throws.
 */
export async function drawPng(svg: string): Promise<Uint8Array> {
  ready ??= load()
  const fontBuffers = await ready
  const picture = new Resvg(plainLetters(svg), {
    fitTo: { mode: 'zoom', value: ZOOM },
    font: { fontBuffers, defaultFontFamily: FAMILY, sansSerifFamily: FAMILY },
  })
  const image = picture.render()
  const png = image.asPng()
  image.free()
  picture.free()
  return png
}

/** Once a process. */
async function load(): Promise<Uint8Array[]> {
  const find = createRequire(import.meta.url).resolve
  await initWasm(await readFile(find('@resvg/resvg-wasm/index_bg.wasm')))
  const weights = ['400Regular/OpenSans_400Regular', '600SemiBold/OpenSans_600SemiBold']
  return Promise.all(weights.map((weight) => readFile(find(`${FONT_PACKAGE}/${weight}.ttf`))))
}

/** The two signs of our units and numbers that the font lacks: "min⁻¹" becomes "1/min". */
function plainLetters(svg: string): string {
  return svg
    .replaceAll('min⁻¹', '1/min')
    .replaceAll('s⁻¹', '1/s')
    .replaceAll('\u207b', '-')
    .replaceAll('\u202f', '\u00a0')
}
