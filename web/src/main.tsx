// SPDX-License-Identifier: Apache-2.0
import { render } from "preact";
import { App } from "./app";
import { showRemembered } from "./switches";

showRemembered();
const page = document.getElementById("page");
if (page !== null) render(<App />, page);
