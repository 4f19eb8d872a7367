package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"io/fs"
	"time"
)

// file is one file of an archive.
type file struct {
	name string
	data []byte
	run  bool // may be run
}

// mode is who may do what with the file.
func (f file) mode() fs.FileMode {
	if f.run {
		return 0o755
	}
	return 0o644
}

// made is the time that every file of an archive has: the earliest that a zip file can say.
func made() time.Time { return time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC) }

// zipped packs files into a folder of a zip file.
func zipped(folder string, files []file) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range files {
		h := &zip.FileHeader{Name: folder + "/" + f.name, Method: zip.Deflate, Modified: made()}
		h.SetMode(f.mode())
		w, err := z.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return out.Bytes(), err
}

// tarball packs files into a folder of a compressed tar file.
func tarball(folder string, files []file) ([]byte, error) {
	var out bytes.Buffer
	z := gzip.NewWriter(&out) // its header has no time and no name unless they are set
	t := tar.NewWriter(z)
	for _, f := range files {
		err := t.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: folder + "/" + f.name, Size: int64(len(f.data)),
			Mode: int64(f.mode()), ModTime: made(), Format: tar.FormatUSTAR})
		if err != nil {
			return nil, err
		}
		if _, err := t.Write(f.data); err != nil {
			return nil, err
		}
	}
	if err := t.Close(); err != nil {
		return nil, err
	}
	err := z.Close()
	return out.Bytes(), err
}
