"""What stands before a bucket in a real studio: a web server that gives out its objects, a folder's page for the folder."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

from botocore.exceptions import ClientError
from mypy_boto3_s3 import S3Client


class _Front(BaseHTTPRequestHandler):
    client: S3Client
    bucket: str

    def do_GET(self) -> None:
        path = self.path.lstrip("/")
        try:
            found = self.client.get_object(
                Bucket=self.bucket, Key=path + ("index.html" if path.endswith("/") else "")
            )
            status, media, body = 200, found["ContentType"], found["Body"].read()
        except ClientError:
            status, media, body = 404, "text/plain", b"nothing"
        self.send_response(status)
        self.send_header("Content-Type", media)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002 - the name is the library's
        """Say nothing."""


@contextmanager
def fronted(client: S3Client, bucket: str) -> Iterator[str]:
    """Give the address at which the objects of *bucket* are given out."""
    kind = type("Front", (_Front,), {"client": client, "bucket": bucket})
    with ThreadingHTTPServer(("127.0.0.1", 0), kind) as server:
        server.daemon_threads = True
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_address[1]}/"
        server.shutdown()
        thread.join(5)
