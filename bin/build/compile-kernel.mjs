/** lib/kernel/assembly as the text of lib/kernel/code.ts. */
import asc from 'assemblyscript/asc';

const OPTIONS = ['-O3', '--noAssert', '--runtime', 'stub', '--enable', 'simd'];

/** @returns {Promise<string>} */
export async function compileKernel() {
  /** @type {Uint8Array | null} */
  let code = null;
  const { error, stderr } = await asc.main(
    [
      'lib/kernel/assembly/index.ts',
      ...OPTIONS,
      '--initialMemory',
      '1',
      '--outFile',
      'kernel.wasm',
    ],
    {
      writeFile: (_, contents) => {
        if (typeof contents !== 'string') code = contents;
      },
    },
  );
  if (error || code === null) throw new Error(`${error?.message}\n${stderr.toString()}`);
  const lines =
    Buffer.from(code)
      .toString('base64')
      .match(/.{1,90}/g) ?? [];
  const text = lines.map((line) => `  '${line}',`).join('\n');
  return `/** Made from assembly by \`npm run kernel\`, and not to be changed by hand: WebAssembly in base64. */\nexport const CODE = [\n${text}\n].join('');\n`;
}
