// Plays the games of games.json in the program for browsers, as page.js would ask for them, and compares every answer
// with the one that the same program gave on this machine. Called with wasm_exec.js, the program and the folder.
"use strict";
const fs = require("fs");
const { createHash } = require("crypto");
const { gunzipSync } = require("zlib");
const [starts, program, folder] = process.argv.slice(2);
const games = JSON.parse(fs.readFileSync(folder + "/games.json", "utf8"));

require(starts);
globalThis.Date = class extends Date {
  constructor(...given) {
    super(...(given.length ? given : [1800000000000]));
  }
};
// What starts a program draws as it likes; the games draw what they drew before.
let draws = null;
const real = globalThis.crypto;
Object.defineProperty(globalThis, "crypto", {
  value: {
    getRandomValues(into) {
      if (!draws) return real.getRandomValues(into);
      const next = Buffer.from(draws.shift() || "", "hex");
      if (next.length !== into.length) throw new Error(`${into.length} random bytes are wanted, ${next.length} were drawn`);
      into.set(next);
      return into;
    },
  },
});
const stop = (why) => {
  console.error(why);
  process.exit(1);
};
const play = () => {
  draws = games.random;
  games.requests.forEach((r, i) => {
    const a = nospark.answer(r.method, r.path, r.form);
    const sum = createHash("sha256").update(`${a.status} ${a.location}\n${a.body}`).digest("hex");
    if (sum !== r.sum) stop(`request ${i}, ${r.method} ${r.path} ${r.form}: another answer\n${a.status} ${a.location}\n${a.body}`);
  });
  if (draws.length) stop(`${draws.length} draws are left`);
  console.log(`${games.requests.length} answers are the same`);
  process.exit(0);
};
globalThis.nospark = {
  offers: JSON.stringify(games.offers),
  shelf: (i) => new Uint8Array(fs.readFileSync(`${folder}/${i}.shelf`)),
  kept: () => "",
  keep: () => true,
  failed: stop,
  ready: () => setTimeout(play, 0),
};
(async () => {
  const go = new Go();
  const { instance } = await WebAssembly.instantiate(gunzipSync(fs.readFileSync(program)), go.importObject);
  await go.run(instance);
})().catch((why) => stop(String(why)));
