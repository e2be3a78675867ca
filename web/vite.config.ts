// SPDX-License-Identifier: Apache-2.0
// Static files for the server of the program: nothing inline, because its CSP refuses that.
import { defineConfig } from "vite";

export default defineConfig({
  base: "/",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      output: { entryFileNames: "page.js", assetFileNames: "[name][extname]" },
    },
  },
});
