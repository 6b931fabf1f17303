export default {
  template: `
    <div class="bw-drop" :class="{ over }" @dragover.prevent="over = true" @dragleave="over = false"
         @drop.prevent="drop">
      <label class="bw-field"><span class="bw-label">{{ label }}</span>
        <input type="file" :accept="accept" :multiple="many" @change="take([...$event.target.files])"
               :data-mark="mark" /></label>
      <p class="bw-small">{{ hint }}</p>
      <p v-if="said" role="alert" class="bw-wrong">{{ said }}</p>
    </div>`,
  props: {
    label: String, hint: String, accept: String, many: Boolean, url: String, most: Number,
    too_large: String, gone: String, mark: String,
  },
  data() {
    return { over: false, said: "" };
  },
  methods: {
    drop(event) {
      this.over = false;
      this.take([...event.dataTransfer.files]);
    },
    async take(files) {
      this.said = "";
      // A field that is being typed into says what it holds first: the file may depend on it.
      document.activeElement?.blur();
      await new Promise((done) => setTimeout(done, 150));
      for (const file of files) {
        if (file.size > this.most) {
          this.said = `${file.name}: ${this.too_large}`;
          continue;
        }
        const answer = await fetch(this.url, {
          method: "POST",
          body: file,
          headers: { "x-file-name": encodeURIComponent(file.name) },
        });
        // The answer's body says what is wrong, in words for the person.
        const told = await answer.json().catch(() => ({ error: this.too_large }));
        if (told.gone) told.error = this.gone;
        if (told.error) this.said = `${file.name}: ${told.error}`;
      }
    },
  },
};
