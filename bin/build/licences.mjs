/** The licences of the packages of which something is built in. */
import { readdirSync, readFileSync } from 'node:fs';

/** The terms as they stand in our own licence, below its line of copyright. */
const MIT_TERMS = readFileSync('LICENSE', 'utf8')
  .replace(/^[\s\S]*?(?=Permission is hereby granted)/, '')
  .trim();

/** Name, licence and its text, of every package among the files that a bundle was made of. */
export function licencesIn({ inputs }) {
  const folders = new Set(
    Object.keys(inputs).flatMap((file) => {
      const [folder] = /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file) ?? [];
      return folder === undefined ? [] : [folder];
    }),
  );
  return [...folders].sort().map((folder) => {
    const { name, license, author } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8'));
    const file = readdirSync(folder).find((f) => /^licen[cs]e/i.test(f));
    if (file !== undefined) {
      return { name, license, text: readFileSync(`${folder}/${file}`, 'utf8').trim() };
    }
    // A package may say whose it is and under which terms, and bring no text of them.
    if (license !== 'MIT' || !author) throw new Error(`${name} has no licence text`);
    return { name, license, text: `Copyright (c) ${author.name ?? author}\n\n${MIT_TERMS}` };
  });
}

/** All of them in one file. */
export function asText(licences) {
  return licences
    .map(({ name, license, text }) => `${name} (${license})\n\n${text}\n`)
    .join(`\n${'-'.repeat(72)}\n\n`);
}
