/** The licences of the packages of which something is built in. */
import { readdirSync, readFileSync } from 'node:fs';

/** Name, licence and its text, of every package among the files that a bundle was made of. */
export function licencesIn({ inputs }) {
  const folders = new Set(
    Object.keys(inputs).flatMap((file) => {
      const [folder] = /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file) ?? [];
      return folder === undefined ? [] : [folder];
    }),
  );
  return [...folders].sort().map((folder) => {
    const { name, license } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8'));
    const file = readdirSync(folder).find((f) => /^licen[cs]e/i.test(f));
    if (file === undefined) throw new Error(`${name} has no licence text`);
    return { name, license, text: readFileSync(`${folder}/${file}`, 'utf8').trim() };
  });
}

/** All of them in one file. */
export function asText(licences) {
  return licences
    .map(({ name, license, text }) => `${name} (${license})\n\n${text}\n`)
    .join(`\n${'-'.repeat(72)}\n\n`);
}
