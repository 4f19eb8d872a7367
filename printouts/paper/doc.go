// Package paper makes PDFs of documents. [PDF] sets the blocks of a document one below the other; that serves most
// of them. Documents that must fit a given number of pages have a package below this one, which places their parts
// to the millimeter on [Pages].
package paper
